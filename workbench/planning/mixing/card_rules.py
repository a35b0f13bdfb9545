"""Which cards there may be: what each layer may show, no print twice, the maker's rules kept."""

import random
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import NamedTuple

from workbench.craft.mixing import FixedCard, Likeness, Pair
from workbench.craft.project import Project

Faces = tuple[str | None, ...]

_SEED = 0
NO_PRINT_TWICE = "no card shows a print twice"
ALL_ALIKE = "all cards are alike, as a set"


@dataclass(frozen=True, slots=True)
class Slot:
    """A layer that is left open, and the faces it may show; None where it may be missing."""

    layer: str
    piece: str
    faces: Faces
    mixed: bool


class _Card(NamedTuple):
    """A card as far as it is dealt: its first slots, all it shows, and what it may show yet."""

    slots: Sequence[Slot]
    choice: Faces
    seen: Collection[str | None]
    coming: Collection[str | None]


@dataclass(frozen=True, slots=True)
class Apart:
    """Two faces that never meet on a card."""

    pair: Pair

    @property
    def words(self) -> str:
        """The rule as the maker would say it."""
        return f'"{self.pair[0]}" and "{self.pair[1]}" never meet'

    def broken(self, card: _Card) -> bool:
        """Whether no card that begins so can keep the rule."""
        return all(face in card.seen for face in self.pair)


@dataclass(frozen=True, slots=True)
class Together:
    """Two faces of which a card shows both or neither."""

    pair: Pair

    @property
    def words(self) -> str:
        """The rule as the maker would say it."""
        return f'"{self.pair[0]}" and "{self.pair[1]}" always meet'

    def broken(self, card: _Card) -> bool:
        """Whether no card that begins so can keep the rule."""
        seen = [face in card.seen for face in self.pair]
        possible = [face in card.seen or face in card.coming for face in self.pair]
        return any(seen) and not all(possible)


@dataclass(frozen=True, slots=True)
class Held:
    """A card fixed by hand."""

    fixed: FixedCard

    @property
    def words(self) -> str:
        """The rule as the maker would say it."""
        shows = [f'{layer} of "{face}"' for layer, face in self.fixed.shows.items()]
        return f"card {self.fixed.number} has {' and '.join(shows)}"


@dataclass(frozen=True, slots=True)
class NoPrintTwice:
    """No mixed layer repeats a print; `always` are the faces on every card."""

    prints: frozenset[str]
    always: frozenset[str]

    @property
    def words(self) -> str:
        """The rule as the maker would say it."""
        return NO_PRINT_TWICE

    def broken(self, card: _Card) -> bool:
        """Whether no card that begins so can keep the rule."""
        if not card.choice or card.choice[-1] not in self.prints:
            return False
        face, slot = card.choice[-1], card.slots[len(card.choice) - 1]
        if slot.mixed and face in self.always:
            return True
        before = zip(card.slots, card.choice[:-1], strict=False)
        return any(face == shown and (slot.mixed or other.mixed) for other, shown in before)


Rule = Apart | Together | NoPrintTwice


@dataclass(frozen=True, slots=True)
class Section:
    """Slots that must be dealt together, and all that rules their cards.

    What one section of a card shows never matters to another. `always` are the faces on every
    card; `wish` is how alike the cards shall be.
    """

    slots: tuple[Slot, ...]
    rules: tuple[Rule, ...]
    held: tuple[Held, ...]
    always: frozenset[str]
    wish: Likeness = "varied"

    @property
    def ruled(self) -> bool:
        """Whether the maker set any rule for it."""
        ruled = any(not isinstance(rule, NoPrintTwice) for rule in self.rules)
        return ruled or bool(self.held) or self.wish != "varied"

    def cards(self) -> Iterator[Faces]:
        """Every card that the rules allow, in an order that never varies."""
        return self._cards(lambda _: True)

    def _cards(self, worthwhile: Callable[[Faces], bool]) -> Iterator[Faces]:
        """Cards begun slot by slot, and gone on with where the beginning is `worthwhile`."""
        todo: list[Faces] = [()]
        coming = [
            {face for slot in self.slots[at:] for face in slot.faces}
            for at in range(len(self.slots) + 1)
        ]
        while todo:
            choice = todo.pop()
            card = _Card(self.slots, choice, self.always.union(choice), coming[len(choice)])
            if any(rule.broken(card) for rule in self.rules) or not worthwhile(choice):
                continue
            if len(choice) == len(self.slots):
                yield choice
            else:
                todo += [(*choice, face) for face in reversed(self.slots[len(choice)].faces)]

    def holding(self, fixed: FixedCard) -> "Section":
        """The section with its slots closed to all but what the fixed card shows."""
        slots = (
            replace(
                slot,
                faces=tuple(
                    face for face in slot.faces if fixed.shows.get(slot.layer, face) == face
                ),
            )
            for slot in self.slots
        )
        return replace(self, slots=tuple(slots))

    def fits(self, choice: Faces, fixed: FixedCard) -> bool:
        """Whether the fixed card can be this one."""
        return all(
            fixed.shows.get(slot.layer, face) == face
            for slot, face in zip(self.slots, choice, strict=True)
        )

    def possible(self) -> bool:
        """Whether there is any card; the slots with the least choice are filled first."""
        slots = tuple(sorted(self.slots, key=lambda slot: len(slot.faces)))
        met: set[tuple[int, frozenset[tuple[bool, str | None]]]] = set()

        def new(choice: Faces) -> bool:
            """Whether no beginning as long showed the same: what may follow is the same too."""
            shown = frozenset((slot.mixed, face) for slot, face in zip(slots, choice, strict=False))
            known = len(met)
            met.add((len(choice), shown))
            return len(met) > known

        return next(replace(self, slots=slots)._cards(new), None) is not None

    def some_cards(self, most: int) -> tuple[list[Faces], bool]:
        """Every card when there are no more than `most`, else as many, drawn from all over.

        The second value says whether they are all. The fixed cards are always among them.
        """
        found = list(islice(self.cards(), most + 1))
        if len(found) <= most:
            return found, True
        spaces = [self, *(self.holding(held.fixed) for held in self.held)]
        shuffle = random.Random(_SEED).sample
        drawn: dict[Faces, None] = {}
        for number in range(most):
            space = spaces[number % len(spaces)]
            slots = (replace(s, faces=tuple(shuffle(s.faces, len(s.faces)))) for s in space.slots)
            drawn.update(dict.fromkeys(islice(replace(space, slots=tuple(slots)).cards(), 1)))
        return list(drawn), False


def sections(
    project: Project, open_faces: Mapping[str, Sequence[str | None]] | None = None
) -> list[Section]:
    """The layers that are left open, in sections. The first has no slots: what every card shows.

    `open_faces` says what each piece may show, where that is less than the project allows.
    """
    slots = _slots(project, open_faces)
    always = on_every_card(project)
    prints = frozenset(
        face.name for paper in project.papers for face in paper.faces if face.shows_print
    )
    twice = NoPrintTwice(prints, always)
    pairs: list[Apart | Together] = [
        *map(Apart, project.mixing.apart),
        *map(Together, project.mixing.together),
    ]
    links = [frozenset({face}) for face in sorted(prints - always)]
    links += [frozenset(rule.pair) - always for rule in pairs]
    wish = project.mixing.wish
    if wish == "all different":  # two cards may differ anywhere
        links.append(frozenset(face for slot in slots for face in slot.faces if face))
    found = []
    for numbers in _joined(slots, links):
        mine = tuple(slots[number] for number in numbers)
        shown = {face for slot in mine for face in slot.faces}
        layers = {slot.layer for slot in mine}
        rules = [rule for rule in pairs if shown.intersection(rule.pair) - always]
        held = [Held(card) for card in project.mixing.cards if layers & card.shows.keys()]
        found.append(Section(mine, (twice, *rules), tuple(held), always, wish))
    bare = [rule for rule in pairs if not any(rule in section.rules for section in found)]
    return [Section((), tuple(bare), (), always, wish), *found]


def _slots(project: Project, open_faces: Mapping[str, Sequence[str | None]] | None) -> list[Slot]:
    found = []
    for layer in project.layers():
        piece, mixed = layer.piece, project.mixed(layer.piece)
        if not mixed and piece.needed:
            continue
        faces: Sequence[str | None] = project.faces(piece)
        if not piece.needed:
            faces = (*faces, None)
        if open_faces is not None:
            faces = open_faces[piece.name]
        found.append(Slot(layer.name, piece.name, tuple(faces), mixed))
    return found


def on_every_card(project: Project) -> frozenset[str]:
    """The faces that are on every card whatever is dealt."""
    fixed = [piece for piece in project.pieces if piece.needed and not project.mixed(piece)]
    return frozenset([project.card.paper, *(piece.papers[0] for piece in fixed)])


def _joined(slots: Sequence[Slot], links: Sequence[frozenset[str]]) -> list[list[int]]:
    """The slots by number in sets, joined where both show a face of one link, or one piece."""
    by_piece: dict[str, list[int]] = defaultdict(list)
    for number, slot in enumerate(slots):
        by_piece[slot.piece].append(number)
    sets = list(by_piece.values())
    for link in links:
        meeting = [
            numbers
            for numbers in sets
            if any(link.intersection(slots[number].faces) for number in numbers)
        ]
        if len(meeting) > 1:
            sets = [numbers for numbers in sets if numbers not in meeting]
            sets.append(sorted(number for numbers in meeting for number in numbers))
    return sorted(sets)


def conflict(project: Project) -> tuple[str, ...]:
    """The words of a smallest set of rules that cannot all hold; empty when they can.

    Without any one of them, the others can (a deletion filter).
    """
    for section in sections(project):
        together: list[Sequence[Held]] = [(), *((held,) for held in section.held)]
        if section.wish == "as a set":
            together.append(section.held)
        for held in together:
            clash = _clash(section, held)
            if clash:
                return clash
    return ()


def _clash(section: Section, held: Sequence[Held]) -> tuple[str, ...]:
    """The words of what cannot hold for one card that is all of `held`."""

    def possible(rules: Sequence[Rule], holding: Sequence[Held]) -> bool:
        ruled = replace(section, rules=tuple(rules))
        for each in holding:
            ruled = ruled.holding(each.fixed)
        return ruled.possible()

    rules, holding = list(section.rules), list(held)
    if possible(rules, holding):
        return ()
    # The house's own rule comes last: the maker can only change hers.
    for rule in sorted(section.rules, key=lambda rule: isinstance(rule, NoPrintTwice)):
        others = [other for other in rules if other is not rule]
        if not possible(others, holding):
            rules = others
    for one in held:
        fewer = [other for other in holding if other is not one]
        if not possible(rules, fewer):
            holding = fewer
    words = tuple(said.words for said in (*rules, *holding))
    return (ALL_ALIKE, *words) if len(holding) > 1 else words
