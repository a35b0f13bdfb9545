"""Rectangles on the card: what they share, what is left of them, the borders around them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length


@dataclass(frozen=True, slots=True)
class Borders:
    """How far each edge of a rectangle lies inside another's; below ZERO where it sticks out."""

    left: Length
    bottom: Length
    right: Length
    top: Length

    @property
    def least(self) -> Length:
        return min(self.left, self.bottom, self.right, self.top)


@dataclass(frozen=True, slots=True)
class Extent:
    """A rectangle between four edges, measured from the bottom left of the card's front."""

    left: Length
    bottom: Length
    right: Length
    top: Length

    @classmethod
    def of(cls, x: Length, y: Length, size: Size) -> "Extent":
        return cls(x, y, x + size.width, y + size.height)

    @property
    def width(self) -> Length:
        return self.right - self.left

    @property
    def height(self) -> Length:
        return self.top - self.bottom

    @property
    def area(self) -> Fraction:
        """In square millimetres."""
        return self.width.mm * self.height.mm

    @property
    def is_empty(self) -> bool:
        return self.width <= ZERO or self.height <= ZERO

    def shared(self, other: "Extent") -> "Extent | None":
        """What both cover, None where that is nothing."""
        both = Extent(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )
        return None if both.is_empty else both

    def borders(self, inner: "Extent") -> Borders:
        """The borders of this rectangle that are left around `inner`."""
        return Borders(
            inner.left - self.left,
            inner.bottom - self.bottom,
            self.right - inner.right,
            self.top - inner.top,
        )

    def touches(self, other: "Extent") -> bool:
        """Whether the two lie edge to edge along more than a point."""
        beside = self.right == other.left or other.right == self.left
        across = self.top == other.bottom or other.top == self.bottom
        return (beside and _meet(self.bottom, self.top, other.bottom, other.top)) or (
            across and _meet(self.left, self.right, other.left, other.right)
        )

    def without(self, other: "Extent") -> Iterator["Extent"]:
        """What `other` leaves of this rectangle, in up to four rectangles that share nothing."""
        hole = self.shared(other)
        if hole is None:
            yield self
            return
        sides = (
            Extent(self.left, self.bottom, self.right, hole.bottom),
            Extent(self.left, hole.top, self.right, self.top),
            Extent(self.left, hole.bottom, hole.left, hole.top),
            Extent(hole.right, hole.bottom, self.right, hole.top),
        )
        yield from (side for side in sides if not side.is_empty)


def remains(whole: Iterable[Extent], covers: Iterable[Extent]) -> tuple[Extent, ...]:
    """What `covers` leave of `whole`, in rectangles that share nothing where those of `whole` do.

    Empty when `whole` is covered completely.
    """
    left = tuple(whole)
    for cover in covers:
        left = tuple(part for one in left for part in one.without(cover))
    return left


def _meet(start: Length, end: Length, other_start: Length, other_end: Length) -> bool:
    return min(end, other_end) > max(start, other_start)
