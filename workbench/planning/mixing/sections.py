"""Which cards there may be: the layers left open in sections, each with its slots and rules."""

import random
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice

from workbench.craft.mixing import FixedCard, Likeness, Pair
from workbench.craft.project import Project, layer_names
from workbench.planning.mixing.card_rules import (
    Apart,
    EachAnother,
    Faces,
    Held,
    NoPrintTwice,
    PartialCard,
    Rule,
    Slot,
    Together,
    no_print_twice,
    on_every_card,
)

Once = tuple[str, str | None]

_SEED = 0


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
        cards = (
            PartialCard(self.slots, choice[:length], seen, ()) for length in range(len(choice) + 1)
        )
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
            card = PartialCard(self.slots, choice, self.always.union(choice), coming[len(choice)])
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
