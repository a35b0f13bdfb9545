"""Which cards there may be: what each layer may show, no print twice, the maker's rules kept."""

import random
from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice
from typing import NamedTuple

from workbench.craft.card import BASE
from workbench.craft.mixing import FixedCard, Likeness, Mixing, Pair
from workbench.craft.project import Project, layer_names

Faces = tuple[str | None, ...]
Once = tuple[str, str | None]

_SEED = 0
NO_PRINT_TWICE = "no card shows a print twice"
ALL_ALIKE = "all cards are alike, as a set"


@dataclass(frozen=True, slots=True)
class Slot:
    """Layers that are left open and show the same, and the faces they may show.

    They are one layer, or all copies alike of one piece. None stands for what may be missing.
    """

    layers: tuple[str, ...]
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

    def shown_by(self, slot: Slot) -> set[str]:
        """The faces that the card fixes for the layers of one slot."""
        shows = self.fixed.shows
        return {shows[layer] for layer in slot.layers if layer in shows}


@dataclass(frozen=True, slots=True)
class NoPrintTwice:
    """No mixed piece repeats a print of another, unless the maker lets these two.

    `fixed` are the faces that are on every card, each with the piece that shows it; `repeat` says
    which pieces may show the same (`Mixing.repeat`).
    """

    prints: frozenset[str]
    fixed: frozenset[tuple[str, str]]
    repeat: bool | tuple[Pair, ...] = False

    @property
    def words(self) -> str:
        """The rule as the maker would say it."""
        return NO_PRINT_TWICE

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """The pairs of pieces that may show the same, where they are named one by one."""
        return () if isinstance(self.repeat, bool) else self.repeat

    def clash(self, one: str, other: str) -> bool:
        """Whether two pieces may not show the same print."""
        return one != other and not Mixing(repeat=self.repeat).may_repeat(one, other)

    def bars(self, piece: str, face: str | None) -> bool:
        """Whether a mixed piece never shows a face, as it is on every card already."""
        return face in self.prints and any(
            face == shown and self.clash(piece, other) for other, shown in self.fixed
        )

    def broken(self, card: _Card) -> bool:
        """Whether no card that begins so can keep the rule."""
        if not card.choice or card.choice[-1] not in self.prints:
            return False
        face, slot = card.choice[-1], card.slots[len(card.choice) - 1]
        if slot.mixed and self.bars(slot.piece, face):
            return True
        before = zip(card.slots, card.choice[:-1], strict=False)
        return any(
            face == shown and (slot.mixed or other.mixed) and self.clash(slot.piece, other.piece)
            for other, shown in before
        )


@dataclass(frozen=True, slots=True)
class EachAnother:
    """No two copies of a piece show the same face on a card."""

    piece: str

    @property
    def words(self) -> str:
        """The rule in words."""
        return f'each "{self.piece}" on a card is another'

    def broken(self, card: _Card) -> bool:
        """Whether the slot dealt last shows what an earlier copy does."""
        if not card.choice or card.choice[-1] is None:
            return False
        face, slot = card.choice[-1], card.slots[len(card.choice) - 1]
        before = zip(card.slots, card.choice[:-1], strict=False)
        return slot.piece == self.piece and any(
            face == shown and other.piece == self.piece for other, shown in before
        )


Rule = Apart | Together | NoPrintTwice | EachAnother
_OWN = (NoPrintTwice, EachAnother)


@dataclass(frozen=True)
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
        ruled = any(isinstance(rule, Apart | Together) for rule in self.rules)
        return ruled or bool(self.held) or self.wish != "varied" or bool(self._repeating)

    @property
    def _repeating(self) -> list[Pair]:
        """The pairs of its pieces that may show the same print, named one by one."""
        mine = {slot.piece for slot in self.slots if slot.mixed}
        return [pair for pair in self.twice.pairs if mine.intersection(pair)]

    @property
    def twice(self) -> NoPrintTwice:
        """Its rule of no print twice; without one, a rule that binds nothing."""
        rules = (rule for rule in self.rules if isinstance(rule, NoPrintTwice))
        return next(rules, NoPrintTwice(frozenset(), frozenset()))

    @cached_property
    def another(self) -> frozenset[str]:
        """The names of pieces of which no two copies on a card may show the same face."""
        return frozenset(rule.piece for rule in self.rules if isinstance(rule, EachAnother))

    def once(self, slot: Slot, face: str | None) -> Once | None:
        """What stands for a face that a card's slots may show only once; None if as they like.

        Slots for which it is the same exclude one another, as long as no pairs of pieces are
        allowed to repeat.
        """
        if slot.mixed and face in self.twice.prints and not self.twice.repeat:
            return "", face
        return (slot.piece, face) if slot.piece in self.another and face is not None else None

    def allows(self, choice: Faces) -> bool:
        """Whether a whole card keeps the rules."""
        seen = self.always.union(choice)
        cards = (_Card(self.slots, choice[:length], seen, ()) for length in range(len(choice) + 1))
        return not any(rule.broken(card) for card in cards for rule in self.rules)

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
                faces=tuple(face for face in slot.faces if _may_show(slot, face, fixed)),
            )
            for slot in self.slots
        )
        return replace(self, slots=tuple(slots))

    def fits(self, choice: Faces, fixed: FixedCard) -> bool:
        """Whether a card of these faces shows all that the maker fixed on card `fixed`."""
        return all(
            _may_show(slot, face, fixed) for slot, face in zip(self.slots, choice, strict=True)
        )

    def possible(self) -> bool:
        """Whether there is any card; the slots with the least choice are filled first."""
        slots = tuple(sorted(self.slots, key=lambda slot: len(slot.faces)))
        met: set[tuple[int, frozenset[tuple[object, bool, str | None]]]] = set()

        def kept(slot: Slot, face: str | None) -> object:
            """What it matters later that the slot shows."""
            return slot.piece if self.twice.pairs else self.once(slot, face)

        def new(choice: Faces) -> bool:
            """Whether no beginning as long showed the same: what may follow is the same too."""
            shown = frozenset(
                (kept(slot, face), slot.mixed, face)
                for slot, face in zip(slots, choice, strict=False)
            )
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
    twice = no_print_twice(project)
    prints = twice.prints
    pairs: list[Apart | Together] = [
        *map(Apart, project.mixing.apart),
        *map(Together, project.mixing.together),
    ]
    met = prints if twice.pairs else prints - always
    links = [frozenset({face}) for face in sorted(met)] if twice.repeat is not True else []
    links += [frozenset(rule.pair) - always for rule in pairs]
    wish = project.mixing.wish
    if wish == "all different":  # two cards may differ anywhere
        links.append(frozenset(face for slot in slots for face in slot.faces if face))
    found = []
    for numbers in _joined(slots, links):
        mine = tuple(slots[number] for number in numbers)
        shown = {face for slot in mine for face in slot.faces}
        layers = {layer for slot in mine for layer in slot.layers}
        copies = Counter(slot.piece for slot in mine if slot.mixed)
        own = [EachAnother(piece) for piece, slots in copies.items() if slots > 1]
        rules = [rule for rule in pairs if shown.intersection(rule.pair) - always]
        held = [Held(card) for card in project.mixing.cards if layers & card.shows.keys()]
        found.append(Section(mine, (twice, *own, *rules), tuple(held), always, wish))
    bare = [rule for rule in pairs if not any(rule in section.rules for section in found)]
    return [Section((), (twice, *bare), (), always, wish), *found]


def _slots(project: Project, open_faces: Mapping[str, Sequence[str | None]] | None) -> list[Slot]:
    found = []
    for piece in project.pieces:
        mixed = project.mixed(piece)
        if not mixed and piece.needed:
            continue
        faces: Sequence[str | None] = project.faces(piece)
        if not piece.needed:
            faces = (*faces, None)
        if open_faces is not None:
            faces = open_faces[piece.name]
        names = layer_names(piece)
        alike = project.alike(piece)
        for first in range(0, len(names), alike):
            layers = names[first : first + alike]
            found.append(Slot(layers, piece.name, tuple(faces), mixed))
    return found


def on_every_card(project: Project) -> frozenset[str]:
    """The faces that are on every card whatever is dealt."""
    return frozenset(face for _, face in _fixed_faces(project))


def no_print_twice(project: Project) -> NoPrintTwice:
    """The rule of no print twice, as far as the maker lets it stand."""
    prints = (face.name for paper in project.papers for face in paper.faces if face.shows_print)
    return NoPrintTwice(frozenset(prints), frozenset(_fixed_faces(project)), project.mixing.repeat)


def _fixed_faces(project: Project) -> Iterator[tuple[str, str]]:
    """What is on every card whatever is dealt: each piece, the base too, and its face."""
    yield BASE, project.card.paper
    for piece in project.pieces:
        if piece.needed and not project.mixed(piece):
            yield piece.name, piece.papers[0]


def _may_show(slot: Slot, face: str | None, fixed: FixedCard) -> bool:
    return all(fixed.shows.get(layer, face) == face for layer in slot.layers)


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
    for rule in sorted(section.rules, key=lambda rule: isinstance(rule, _OWN)):
        others = [other for other in rules if other is not rule]
        if not possible(others, holding):
            rules = others
    for one in held:
        fewer = [other for other in holding if other is not one]
        if not possible(rules, fewer):
            holding = fewer
    words = [said.words for said in (*rules, *holding)]
    unlike = [s.piece for s in section.slots if any(len(one.shown_by(s)) > 1 for one in holding)]
    words[:0] = [f'the copies of "{piece}" on a card are alike' for piece in unlike]
    return (ALL_ALIKE, *words) if len(holding) > 1 else tuple(words)
