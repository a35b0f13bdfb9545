"""Papers and the offcuts they leave."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, get_args

from workbench.craft.direction import Direction
from workbench.craft.errors import CraftError, checked_name
from workbench.measure.length import ZERO, Length

PaperKind = Literal["patterned", "cardstock", "vellum", "other"]
Run = Literal["none", "up", "along"]
Edge = Literal["left", "right", "top", "bottom"]

KINDS: tuple[PaperKind, ...] = get_args(PaperKind)
RUNS: tuple[Run, ...] = get_args(Run)
EDGES: tuple[Edge, ...] = get_args(Edge)
SOLID = "solid"
MOST_SHEETS = 100_000
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_STOCK = re.compile(r"[0-9a-f]{12}")


@dataclass(frozen=True, slots=True)
class Size:
    """Width across and height up, both above zero."""

    width: Length
    height: Length

    @property
    def turned(self) -> "Size":
        """The size turned by a quarter: width and height change places."""
        return Size(self.height, self.width)

    @property
    def area(self) -> Fraction:
        """Its exact area in square millimetres."""
        return self.width.mm * self.height.mm

    def along(self, direction: Direction) -> Length:
        """The side that is measured in `direction`."""
        return self.width if direction is Direction.WIDTH else self.height

    def halves(self, direction: Direction, mark: Length) -> tuple["Size", "Size"]:
        """The two sizes that a cut gives: the first measures `mark` along `direction`."""
        if direction is Direction.WIDTH:
            return Size(mark, self.height), Size(self.width - mark, self.height)
        return Size(self.width, mark), Size(self.width, self.height - mark)

    def holds(self, other: "Size") -> bool:
        """Whether `other`, not turned, is no larger either way."""
        return other.width <= self.width and other.height <= self.height


def checked_size(size: Size, place: str) -> Size:
    """Check that both sides are above zero.

    Returns:
        `size` itself.

    Raises:
        CraftError: where they are not, told at `place`.
    """
    if size.width <= ZERO or size.height <= ZERO:
        raise CraftError(place, "a side is nothing or less", "give two lengths above 0")
    return size


@dataclass(frozen=True, slots=True)
class Strip:
    """A printed strip along one edge of every sheet, trimmed off first and thrown away."""

    edge: Edge
    width: Length

    @property
    def upright(self) -> bool:
        """Whether it runs up a side, so that the sheet loses width."""
        return self.edge in ("left", "right")

    @property
    def lies_first(self) -> bool:
        """Whether it lies where measuring begins, at the left or the bottom."""
        return self.edge in ("left", "bottom")


@dataclass(frozen=True, slots=True)
class Back:
    """The other face of a double-faced paper; its name says which face a card shows.

    Attributes:
        name: its own among all papers and backs of a project.
        print: as of a `Paper`, and so the others.
        colours: its inks and last its ground, "#rrggbb".
        run: which way its print points on a sheet that lies as its front is upright.

    Raises:
        CraftError: for a name or print that cannot be printed, or a colour written otherwise.
    """

    name: str
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"

    def __post_init__(self) -> None:
        _check_look(self.print, self.colours, f'back "{checked_name(self.name, "papers, back")}"')


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper that the maker owns, cut from sheets of one size.

    Attributes:
        name: its own among all papers and backs of a project.
        kind: "patterned", "cardstock", "vellum" or "other".
        size: a whole sheet with its print upright.
        sheets: how many are on hand, from 0 to `MOST_SHEETS`.
        print: how it is drawn: "solid", "stripe", "dot" and so on, or any other name.
        colours: its inks and last its ground, "#rrggbb".
        run: which way its print points: "none" (turn it any way), "up" (one way), "along" (the same
            upside down, not sideways).
        weight: as the maker wrote it, "110 lb cover"; `measure.weights` reads it.
        thickness: of one sheet as the maker wrote it, "0.36 mm".
        strip: what is printed along an edge, None for nothing.
        back: the other face where either may show, None where only the front does.
        stock: the key of the paper of a drawer that it was taken from, twelve hexadecimal digits,
            which mean nothing to another maker's drawer; None where it was taken from none.

    Raises:
        CraftError: where these do not fit one another.
    """

    name: str
    kind: PaperKind
    size: Size
    sheets: int = 0
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"
    weight: str | None = None
    thickness: str | None = None
    strip: Strip | None = None
    back: Back | None = None
    stock: str | None = None

    def __post_init__(self) -> None:
        place = f'paper "{checked_name(self.name, "papers")}"'
        checked_size(self.size, f"{place}, size")
        _check_on_hand(self.sheets, 0, "sheets", f"{place}, sheets")
        _check_look(self.print, self.colours, place)
        if self.strip:
            _check_strip(self.strip, self.size, f"{place}, strip")
        if self.stock is not None and not _STOCK.fullmatch(self.stock):
            raise CraftError(
                f"{place}, stock",
                f"{self.stock!r} is no key of a drawer's paper",
                "leave the line out, or choose the paper from the drawer",
            )

    @property
    def usable(self) -> Size:
        """The part of a sheet to cut pieces from, its printed strip trimmed off."""
        if not self.strip:
            return self.size
        if self.strip.upright:
            return Size(self.size.width - self.strip.width, self.size.height)
        return Size(self.size.width, self.size.height - self.strip.width)

    @property
    def faces(self) -> tuple["Paper", ...]:
        """The paper as it looks from each side that may show, front first, as papers without back.

        The paper of the back side has the back's name, print, colours and run.
        """
        back = self.back
        if back is None:
            return (self,)
        look = replace(
            self, name=back.name, print=back.print, colours=back.colours, run=back.run, back=None
        )
        return (self, look)

    @property
    def shows_print(self) -> bool:
        """Whether a card would look repeated if it showed this paper twice."""
        return self.kind == "patterned" or self.print != SOLID

    @property
    def turns(self) -> bool:
        """Whether a piece may be cut sideways from it, whichever face will show."""
        return all(face.run == "none" for face in self.faces)


def _check_look(print_name: str, colours: tuple[str, ...], place: str) -> None:
    checked_name(print_name, f"{place}, print", "print")
    for colour in colours:
        if not _COLOUR.fullmatch(colour):
            raise CraftError(
                f"{place}, colours",
                f"{colour!r} is not a colour",
                'write it as "#2f6f8f", six hexadecimal digits',
            )


def _check_on_hand(count: int, least: int, what: str, place: str) -> None:
    if not least <= count <= MOST_SHEETS:
        raise CraftError(
            place,
            f"{count} {what} cannot be on hand",
            f"give a whole number from {least} to {MOST_SHEETS}",
        )


def _check_strip(strip: Strip, size: Size, place: str) -> None:
    if strip.width <= ZERO:
        raise CraftError(place, "its width is nothing or less", "give it a width above 0")
    if strip.width >= (size.width if strip.upright else size.height):
        raise CraftError(
            place,
            f"a strip that wide along the {strip.edge} leaves nothing of the sheet",
            "make it narrower than the sheet",
        )


@dataclass(frozen=True, slots=True)
class Offcut:
    """Leftover rectangles worth keeping, all of one paper and size.

    Attributes:
        paper: the name of the paper they came from.
        size: of each, its print upright.
        count: how many there are, from 1 to `MOST_SHEETS`.

    Raises:
        CraftError: for a side that is not above zero, or another count.
    """

    paper: str
    size: Size
    count: int = 1

    def __post_init__(self) -> None:
        place = f'offcut of "{self.paper}"'
        checked_size(self.size, f"{place}, size")
        _check_on_hand(self.count, 1, "offcuts", f"{place}, count")


def offcuts_of(counts: Mapping[tuple[str, Size], int]) -> tuple[Offcut, ...]:
    """Offcuts of as many as `counts` says there are of each paper and size, in its order."""
    return tuple(Offcut(paper, size, count) for (paper, size), count in counts.items())
