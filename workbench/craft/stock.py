"""Stock: the papers and offcuts in the drawer, and the counts that always agree."""

from dataclasses import dataclass, fields, replace
from fractions import Fraction

from workbench.craft.errors import CraftError, checked_name
from workbench.craft.money import Price
from workbench.craft.paper import Paper, Size, checked_size
from workbench.measure.length import Length

MOST_TAGS = 20
LONGEST_NOTE = 2000
_INCH = Length.of(1, "in")


@dataclass(frozen=True, slots=True)
class _Tally:
    """So many of a lot, by what became of them."""

    bought: int = 0
    on_hand: int = 0
    reserved: int = 0
    used: int = 0
    thrown: int = 0

    @property
    def as_tuple(self) -> tuple[int, int, int, int, int]:
        """Bought, on hand, reserved, used, thrown away."""
        return (self.bought, self.on_hand, self.reserved, self.used, self.thrown)


@dataclass(frozen=True, slots=True)
class Counts(_Tally):
    """What became of all sheets of a paper, or of all its offcuts of one size.

    `bought` came in, by whatever way; each is now on hand, reserved for a batch, used, or thrown
    away. Raises CraftError where these do not add up, or one of them is less than nothing.
    """

    def __post_init__(self) -> None:
        if min(self.as_tuple) < 0 or self.bought != sum(self.as_tuple[1:]):
            raise CraftError("counts", f"{self} do not agree", "count the paper again")

    def __str__(self) -> str:
        return ", ".join(f"{each.name} {getattr(self, each.name)}" for each in fields(self))


@dataclass(frozen=True, slots=True)
class Move(_Tally):
    """How the counts of a lot change at once. What comes in or goes out changes `bought` too."""

    def __post_init__(self) -> None:
        if self.bought != self.on_hand + self.reserved + self.used + self.thrown:
            raise CraftError("counts", f"a move of {self} would not agree", "move what there is")

    def __neg__(self) -> "Move":
        return Move(*(-count for count in self.as_tuple))

    def __sub__(self, other: "Move") -> "Move":
        pairs = zip(self.as_tuple, other.as_tuple, strict=True)
        return Move(*(one - another for one, another in pairs))

    def __bool__(self) -> bool:
        return any(self.as_tuple)


def bought(count: int) -> Move:
    """The move of `count` that come in and lie on hand."""
    return Move(bought=count, on_hand=count)


def used(count: int) -> Move:
    """The move of `count` on hand that are used outside any batch."""
    return Move(on_hand=-count, used=count)


def thrown_away(count: int) -> Move:
    """The move of `count` on hand that are thrown away or lost."""
    return Move(on_hand=-count, thrown=count)


def counted_again(there: int, found: int) -> Move:
    """The move from `there` to `found` on hand: the rest was lost, or came in unseen."""
    return bought(found - there) if found > there else thrown_away(there - found)


@dataclass(frozen=True, slots=True)
class StockPaper:
    """A paper as the drawer knows it; `paper.sheets` are those on hand and free.

    `pad` is the pad it belongs to, `lies` where it lies. Raises CraftError.
    """

    paper: Paper
    pad: str = ""
    price: Price | None = None
    lies: str = ""
    tags: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        place = f'paper "{self.paper.name}"'
        for words, what in ((self.pad, "pad"), (self.lies, "place")):
            if words:
                checked_name(words, place, what)
        for tag in self.tags:
            checked_name(tag, place, "tag")
        if len(self.tags) > MOST_TAGS:
            raise CraftError(place, f"it has {len(self.tags)} tags", f"use {MOST_TAGS} at most")
        if len(set(self.tags)) < len(self.tags):
            raise CraftError(place, "a tag stands there twice", "give each tag once")
        if len(self.note) > LONGEST_NOTE:
            raise CraftError(
                place, "its note is too long", f"use at most {LONGEST_NOTE} characters"
            )

    @property
    def description(self) -> "StockPaper":
        """The same with no sheets on hand, so that two alike in all but their number are equal."""
        return replace(self, paper=replace(self.paper, sheets=0))


@dataclass(frozen=True, slots=True)
class Source:
    """What a batch draws on: whole sheets of the stock paper with that key, or its offcuts."""

    stock: str
    offcut: Size | None = None


@dataclass(frozen=True, slots=True)
class LeastUseful:
    """What is smaller is no offcut worth keeping: its shorter side, and its area in square inches.

    1 in and 6 sq in where the maker says nothing (common practice, no source).
    """

    side: Length = _INCH
    area: int | Fraction = 6

    def __post_init__(self) -> None:
        checked_size(Size(self.side, self.side), "least useful side")
        if self.area < 0:
            raise CraftError("least useful area", "it is less than nothing", "give 0 or more")

    def keeps(self, size: Size) -> bool:
        """Whether an offcut of `size` is worth keeping."""
        enough = size.width.inches * size.height.inches >= self.area
        return enough and min(size.width, size.height) >= self.side
