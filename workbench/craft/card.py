"""The card and the pieces layered on it."""

from dataclasses import dataclass, replace
from typing import Literal, get_args

from workbench.craft.errors import CraftError, checked_name
from workbench.craft.paper import Size, checked_size
from workbench.measure.length import ZERO, Length
from workbench.measure.writing import write_clean, write_near

Fold = Literal["top", "side", "none"]
Corner = Literal["top left", "top right", "bottom left", "bottom right"]
Spread = Literal["loose", "mirrored", "in a row", "placed"]
Across = Literal["left", "centre", "right"]
Up = Literal["bottom", "centre", "top"]
Copies = Literal["alike", "each another"]

FOLDS: tuple[Fold, ...] = get_args(Fold)
CORNERS: tuple[Corner, ...] = get_args(Corner)
SPREADS: tuple[Spread, ...] = get_args(Spread)
ACROSS: tuple[Across, ...] = get_args(Across)
UP: tuple[Up, ...] = get_args(Up)
COPIES: tuple[Copies, ...] = get_args(Copies)

BASE = "card base"
FRONT = "card"
INSIDE = "inside"
APART = "apart"
RESERVED = (BASE, FRONT, INSIDE, APART)
MOST_CARDS = 100_000
MOST_A_CARD = 50
MOST_SPARE = 1_000
# A bound to catch slips (common practice, no source).
MOST_RAISED = Length.of(20, "mm")


@dataclass(frozen=True, slots=True)
class Card:
    """The card that is made in a batch.

    Attributes:
        size: the front, as it is seen when the card is folded.
        fold: the edge it is folded at: "top", "side" (the left), or "none" for a flat card.
        paper: the name of the paper that its base is cut from.
        count: how many cards to make, from 1 to `MOST_CARDS`.

    Raises:
        CraftError: for a side that is not above zero, or another count.
    """

    size: Size
    fold: Fold
    paper: str
    count: int

    def __post_init__(self) -> None:
        checked_size(self.size, "card, size")
        if not 1 <= self.count <= MOST_CARDS:
            raise CraftError(
                "card, count",
                f"{self.count} cards cannot be made in a batch",
                f"give a whole number from 1 to {MOST_CARDS}",
            )

    @property
    def base_size(self) -> Size:
        """The base as it is cut, unfolded: twice as high for a top fold, or as wide for a side."""
        width, height = self.size.width, self.size.height
        if self.fold == "top":
            return Size(width, height * 2)
        if self.fold == "side":
            return Size(width * 2, height)
        return self.size


@dataclass(frozen=True, slots=True)
class Place:
    """Where a piece lies on what it is glued to.

    Attributes:
        x: "left", "centre", "right", or the length from the left edge to its left edge.
        y: "bottom", "centre", "top", or the length from the bottom edge to its bottom edge.
    """

    x: Across | Length = "centre"
    y: Up | Length = "centre"


@dataclass(frozen=True, slots=True)
class Rounding:
    """The corners that a corner rounder takes off, and the radius of the arc it leaves."""

    corners: tuple[Corner, ...]
    radius: Length


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle layered on the card.

    Attributes:
        name: its own among the pieces of a project.
        size: width and height as it lies on the card.
        papers: the names of the papers it may be cut from; several are mixed across the cards.
        place: where it lies on what it is glued to.
        rounding: its rounded corners, None for square ones.
        per_card: how many go on each card, from 1 to `MOST_A_CARD`.
        spread: where several on one card lie: "loose", wherever the maker likes (drawn on one
            another), "mirrored" in what it is glued to (across, then up: two or four), "in a row"
            from its place to the one across from it, or "placed", each in a place of its own.
        places: where the second and all after it lie, for those that are "placed".
        copies: "alike" where all of these on one card show the same face, "each another" where no
            two of them do.
        needed: False for one that is cut only where it costs no extra sheet.
        on: what it is glued to: "card" for the front, "inside", or the name of another piece;
            "apart" for what goes with the card and is not glued to it, an envelope or its liner.
        spare: how many more are cut in all, in case some are spoilt; they go on no card.
        raised: how high it stands on foam pads above what it is glued to.

    Raises:
        CraftError: where these do not fit one another.
    """

    name: str
    size: Size
    papers: tuple[str, ...]
    place: Place = Place()
    rounding: Rounding | None = None
    per_card: int = 1
    copies: Copies = "alike"
    needed: bool = True
    on: str = FRONT
    spare: int = 0
    raised: Length = ZERO
    spread: Spread = "loose"
    places: tuple[Place, ...] = ()

    def __post_init__(self) -> None:
        place = f'piece "{checked_name(self.name, "pieces")}"'
        if self.name in RESERVED:
            raise CraftError(
                place,
                "this name is taken by a part of every card",
                f"choose one other than {', '.join(RESERVED)}",
            )
        checked_size(self.size, f"{place}, size")
        if not self.papers:
            raise CraftError(
                f"{place}, from", "no paper is named", "name the papers it may be cut from"
            )
        if len(set(self.papers)) < len(self.papers):
            raise CraftError(f"{place}, from", "a paper is named twice", "name each paper once")
        if not 1 <= self.per_card <= MOST_A_CARD:
            raise CraftError(
                f"{place}, per_card",
                f"{self.per_card} on each card is not possible",
                f"give a whole number from 1 to {MOST_A_CARD}",
            )
        self._check_places(f"{place}, places")
        if not 0 <= self.spare <= MOST_SPARE:
            raise CraftError(
                f"{place}, spare",
                f"{self.spare} spare pieces are not possible",
                f"give a whole number from 0 to {MOST_SPARE}",
            )
        if self.spare and not self.needed:
            raise CraftError(
                f"{place}, spare",
                "a piece that is cut only where it fits has no spares",
                "leave spare out, or let the piece be needed",
            )
        if not ZERO <= self.raised <= MOST_RAISED:
            raise CraftError(
                f"{place}, raised",
                "no foam pads are that thick",
                f"give 0 to {_in_either_unit(MOST_RAISED)}, the thickness of the pads",
            )
        if self.rounding:
            self._check_rounding(self.rounding, f"{place}, round")

    @property
    def is_apart(self) -> bool:
        """Whether it goes with the card without being glued to it."""
        return self.on == APART

    @property
    def largest_radius(self) -> Length:
        """The largest radius its corners can be rounded by: half the shorter side."""
        return min(self.size.width, self.size.height) / 2

    def place_of(self, number: int) -> Place:
        """The place of the piece's copy of that number, from 1; all but "placed" ones share one."""
        return self.places[number - 2] if self.places and number > 1 else self.place

    def placed_at(self, place: Place, number: int = 1) -> "Piece":
        """The piece with the copy of that number, from 1, in another place."""
        if number == 1:
            return replace(self, place=place)
        at = number - 2
        return replace(self, places=(*self.places[:at], place, *self.places[at + 1 :]))

    def _check_places(self, place: str) -> None:
        if self.spread != "placed" and self.places:
            raise CraftError(
                place,
                "only those that are each placed have places of their own",
                'leave it out, or write spread = "placed"',
            )
        asked = self.per_card - 1
        if self.spread == "placed" and len(self.places) != asked:
            raise CraftError(
                place,
                f"places are given for {len(self.places)} after the first, where {asked} follow",
                "give each after the first its place",
            )

    def _check_rounding(self, rounding: Rounding, place: str) -> None:
        if not rounding.corners or len(set(rounding.corners)) < len(rounding.corners):
            raise CraftError(
                place,
                "corners are missing or named twice",
                f"name each once, from {', '.join(CORNERS)}",
            )
        if rounding.radius <= ZERO:
            raise CraftError(place, "the radius is nothing", "give a length above 0")
        most = self.largest_radius
        if rounding.radius > most:
            raise CraftError(
                place,
                "the radius is more than half the piece's shorter side",
                f"give {_in_either_unit(most)} at most",
            )


def _in_either_unit(length: Length) -> str:
    """In inches where that is clean, else in millimetres."""
    return write_clean(length, "in") or write_near(length, "mm")
