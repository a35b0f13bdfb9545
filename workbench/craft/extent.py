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
        """The narrowest of the four."""
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
        """The rectangle of `size` whose bottom left corner is at (`x`, `y`)."""
        return cls(x, y, x + size.width, y + size.height)

    @property
    def width(self) -> Length:
        """From the left edge to the right."""
        return self.right - self.left

    @property
    def height(self) -> Length:
        """From the bottom edge to the top."""
        return self.top - self.bottom

    @property
    def area(self) -> Fraction:
        """Its exact area in square millimetres."""
        return self.width.mm * self.height.mm

    @property
    def is_empty(self) -> bool:
        """Whether it has no area; its edges may then be in the wrong order."""
        return self.width <= ZERO or self.height <= ZERO

    def shared(self, other: "Extent") -> "Extent | None":
        """The rectangle that both cover, None where they share no area."""
        both = Extent(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )
        return None if both.is_empty else both

    def borders(self, inner: "Extent") -> Borders:
        """How far each edge of `inner` lies inside this rectangle's."""
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
        """What `other` does not cover of this rectangle, as up to four disjoint rectangles."""
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
    """What `covers` do not cover of `whole`.

    Args:
        whole: rectangles; the result is disjoint where these are.
        covers: rectangles to take away, which may overlap.

    Returns:
        Rectangles; none when `whole` is covered completely.
    """
    left = tuple(whole)
    for cover in covers:
        left = tuple(part for one in left for part in one.without(cover))
    return left


def _meet(start: Length, end: Length, other_start: Length, other_end: Length) -> bool:
    return min(end, other_end) > max(start, other_start)
