"""The rules of a card: no print twice, copies each another, what the maker sets and fixes."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from workbench.craft.card import BASE
from workbench.craft.mixing import FixedCard, Mixing, Pair
from workbench.craft.project import Project

Faces = tuple[str | None, ...]

NO_PRINT_TWICE = "no card shows a print twice"


@dataclass(frozen=True, slots=True)
class Slot:
    """Layers that are left open and show the same, and the faces they may show.

    They are one layer, or all copies alike of one piece. None stands for what may be missing.
    """

    layers: tuple[str, ...]
    piece: str
    faces: Faces
    mixed: bool


class PartialCard(NamedTuple):
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

    def broken(self, card: PartialCard) -> bool:
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

    def broken(self, card: PartialCard) -> bool:
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

    def broken(self, card: PartialCard) -> bool:
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

    def broken(self, card: PartialCard) -> bool:
        """Whether the slot dealt last shows what an earlier copy does."""
        if not card.choice or card.choice[-1] is None:
            return False
        face, slot = card.choice[-1], card.slots[len(card.choice) - 1]
        before = zip(card.slots, card.choice[:-1], strict=False)
        return slot.piece == self.piece and any(
            face == shown and other.piece == self.piece for other, shown in before
        )


Rule = Apart | Together | NoPrintTwice | EachAnother
HOUSE_RULES = (NoPrintTwice, EachAnother)
"""Those that the maker did not set."""


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
