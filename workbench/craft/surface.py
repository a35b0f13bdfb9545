"""What is seen of each piece once all are glued on, exactly.

Rectangles are exact. A rounded corner is kept apart from them, as its area holds pi: what it
takes off its square of radius r is r^2 (1 - pi/4).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import BASE, Corner, Piece
from workbench.craft.extent import Extent, remains
from workbench.craft.geometry import Placement, front_extent, placements
from workbench.craft.project import Project
from workbench.measure.length import Length


@dataclass(frozen=True, slots=True)
class Area:
    """`square` and `pi` times pi, both in square millimetres."""

    square: Fraction
    pi: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Seen:
    """The rectangles in which a layer shows, as though no corner were rounded; they share nothing.

    `name` is the piece's, or that of the card base.
    """

    name: str
    parts: tuple[Extent, ...]

    @property
    def area(self) -> Fraction:
        """In square millimetres."""
        return sum((part.area for part in self.parts), Fraction(0))


def piece_area(piece: Piece) -> Area:
    """The area of a piece, its rounded corners taken off."""
    square = piece.size.width.mm * piece.size.height.mm
    if piece.rounding is None:
        return Area(square)
    corners = len(piece.rounding.corners) * piece.rounding.radius.mm**2
    return Area(square - corners, corners / 4)


def seen(project: Project, *, inside: bool = False) -> tuple[Seen, ...]:
    """What shows of the front (or of the inside): the card base first, then each piece."""
    front = front_extent(project)
    stack = [placed for placed in placements(project) if placed.inside == inside]
    layers = [(BASE, front), *((placed.piece.name, placed.extent) for placed in stack)]
    found = []
    for at, (name, extent) in enumerate(layers):
        on_card = extent.shared(front)
        above = [cover for _, cover in layers[at + 1 :]]
        found.append(Seen(name, remains([on_card] if on_card else [], above)))
    return tuple(found)


def neighbours(layers: Sequence[Seen]) -> tuple[tuple[str, str], ...]:
    """The pairs of layers that are seen edge to edge, the lower one first."""
    return tuple(
        (lower.name, upper.name)
        for at, lower in enumerate(layers)
        for upper in layers[at + 1 :]
        if any(one.touches(other) for one in lower.parts for other in upper.parts)
    )


def hidden(placed: Placement, later: Sequence[Placement]) -> bool:
    """Whether the `later` pieces hide it completely, whatever their corners leave open.

    In a rounded corner a piece is counted on only under one that is rounded there no further.
    """
    open_corners = [
        square
        for corner, square in rounded_squares(placed).items()
        if not any(_same_corner(placed, cover, corner) for cover in later)
    ]
    covers = [part for cover in later for part in _sure_parts(cover)]
    return not remains([*_sure_parts(placed), *open_corners], covers)


def rounded_squares(placed: Placement) -> dict[Corner, Extent]:
    """The square that each rounded corner lies in, a radius wide."""
    rounding = placed.piece.rounding
    if rounding is None:
        return {}
    return {corner: _square(placed.extent, corner, rounding.radius) for corner in rounding.corners}


def _square(whole: Extent, corner: Corner, radius: Length) -> Extent:
    left = whole.left if "left" in corner else whole.right - radius
    bottom = whole.bottom if "bottom" in corner else whole.top - radius
    return Extent(left, bottom, left + radius, bottom + radius)


def _sure_parts(placed: Placement) -> Iterator[Extent]:
    """The piece without the squares of its rounded corners."""
    yield from remains([placed.extent], rounded_squares(placed).values())


def _same_corner(placed: Placement, cover: Placement, corner: Corner) -> bool:
    """Whether `cover` has the same corner in the same place, rounded no further."""
    mine, theirs = placed.piece.rounding, cover.piece.rounding
    if mine is None or theirs is None or corner not in theirs.corners:
        return False
    return theirs.radius <= mine.radius and _point(placed, corner) == _point(cover, corner)


def _point(placed: Placement, corner: Corner) -> tuple[Length, Length]:
    extent = placed.extent
    return (
        extent.left if "left" in corner else extent.right,
        extent.bottom if "bottom" in corner else extent.top,
    )
