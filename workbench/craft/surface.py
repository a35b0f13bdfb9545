"""What is seen of each piece once all are glued on, its rounded corners taken off."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from workbench.craft.arcs import Area, Quarter, left_open
from workbench.craft.card import BASE, Corner, Piece
from workbench.craft.extent import Extent, remains
from workbench.craft.geometry import Placement, front_extent, laid_out
from workbench.craft.project import Project
from workbench.measure.length import ZERO, Length


@dataclass(frozen=True, slots=True)
class Seen:
    """What is seen of one layer.

    Attributes:
        name: the layer's, or that of the card base.
        piece: the name of the piece it is, or of the card base.
        parts: disjoint rectangles that would show if no corner were rounded.
        area: what truly shows, the rounded corners reckoned with.
    """

    name: str
    piece: str
    parts: tuple[Extent, ...]
    area: Area


@dataclass(frozen=True, slots=True)
class Shape:
    """A rectangle and what is left of its rounded corners, each in its square."""

    extent: Extent
    quarters: Mapping[Extent, Quarter] = field(default_factory=dict)

    @classmethod
    def of(cls, placed: Placement) -> "Shape":
        """The shape of a piece where it lies."""
        squares = rounded_squares(placed).items()
        return cls(placed.extent, {square: Quarter(square, corner) for corner, square in squares})

    def quarter_in(self, cell: Extent) -> Quarter | None:
        """The rounded corner in whose square `cell` lies; None where it lies in none."""
        within = (q for square, q in self.quarters.items() if square.borders(cell).least >= ZERO)
        return next(within, None)


def piece_area(piece: Piece) -> Area:
    """The area of a piece, its rounded corners taken off."""
    square = piece.size.area
    if piece.rounding is None:
        return Area(square)
    corners = len(piece.rounding.corners) * piece.rounding.radius.mm**2
    return Area(square - corners, corners / 4)


def shapes_on(project: Project, *, inside: bool) -> dict[str, Shape]:
    """The layers glued to the front (or to the inside) by name, back to front.

    Loose copies of a piece, which lie anywhere, are there once.
    """
    return {
        placed.layer: Shape.of(placed) for placed in laid_out(project) if placed.inside == inside
    }


def seen(project: Project, *, inside: bool = False) -> tuple[Seen, ...]:
    """What shows of the front, or of the `inside`: the base, then the pieces back to front."""
    front = front_extent(project)
    stack = {BASE: Shape(front)} | shapes_on(project, inside=inside)
    names, shapes = list(stack), list(stack.values())
    piece_of = {layer.name: layer.piece.name for layer in project.layers()}
    areas = _areas_seen(shapes)
    found = []
    for at, (name, shape) in enumerate(zip(names, shapes, strict=True)):
        on_card = shape.extent.shared(front)
        above = [cover.extent for cover in shapes[at + 1 :]]
        parts = remains([on_card] if on_card else [], above)
        found.append(Seen(name, piece_of.get(name, name), parts, areas[at]))
    return tuple(found)


def overlap(one: Placement, other: Placement) -> Area:
    """The area that both pieces cover; both must lie on the same side of the card."""
    return piece_area(one.piece) - _areas_seen([Shape.of(one), Shape.of(other)])[0]


def _areas_seen(shapes: Sequence[Shape]) -> list[Area]:
    """What shows of each of the shapes, back to front, within the bounds of the first."""
    front = shapes[0].extent
    squares = [square for shape in shapes for square in shape.quarters]
    areas = []
    for at, shape in enumerate(shapes):
        on_card = shape.extent.shared(front)
        above = [cover.extent for cover in shapes[at + 1 :]]
        plain = remains([on_card] if on_card else [], [*above, *squares])
        areas.append(sum((Area(part.area) for part in plain), Area()))
    for cell in _cells(front, squares, [shape.extent for shape in shapes]):
        for at, area in _seen_in(cell, shapes):
            areas[at] += area
    return areas


def _cells(front: Extent, squares: Sequence[Extent], others: Sequence[Extent]) -> Iterator[Extent]:
    """The squares, as far as on the front, in rectangles that no edge crosses."""
    apart: list[Extent] = []
    for square in squares:
        on_card = square.shared(front)
        apart += remains([on_card] if on_card else [], apart)
    edges = [*squares, *others]
    across = sorted({x for edge in edges for x in (edge.left, edge.right)})
    up = sorted({y for edge in edges for y in (edge.bottom, edge.top)})
    for part in apart:
        lefts = [part.left, *(x for x in across if part.left < x < part.right), part.right]
        bottoms = [part.bottom, *(y for y in up if part.bottom < y < part.top), part.top]
        for left, right in pairwise(lefts):
            for bottom, top in pairwise(bottoms):
                yield Extent(left, bottom, right, top)


def _seen_in(cell: Extent, shapes: Sequence[Shape]) -> Iterator[tuple[int, Area]]:
    """What shows of each shape in a cell that no edge crosses, from the front to the back."""
    arcs: list[Quarter] = []
    left = Area(cell.area)
    for at in range(len(shapes) - 1, -1, -1):
        if shapes[at].extent.shared(cell) is None:
            continue
        quarter = shapes[at].quarter_in(cell)
        if quarter is None:
            yield at, left
            return
        arcs.append(quarter)
        after = left_open(cell, arcs)
        yield at, left - after
        left = after


def neighbours(layers: Sequence[Seen]) -> tuple[tuple[str, str], ...]:
    """The names of every two layers that are seen edge to edge, the lower one first.

    Args:
        layers: all that shows, back to front, as `seen` gives it.
    """
    return tuple(
        (lower.name, upper.name)
        for at, lower in enumerate(layers)
        for upper in layers[at + 1 :]
        if any(one.touches(other) for one in lower.parts for other in upper.parts)
    )


def hidden(placed: Placement, later: Sequence[Placement]) -> bool:
    """Whether the `later` pieces surely hide a piece completely.

    A rounded corner of a later piece counts as hiding nothing, except over a corner of the piece in
    the same place that is rounded at least as far.
    """
    open_corners = [
        square
        for corner, square in rounded_squares(placed).items()
        if not any(_same_corner(placed, cover, corner) for cover in later)
    ]
    covers = [part for cover in later for part in _sure_parts(cover)]
    return not remains([*_sure_parts(placed), *open_corners], covers)


def rounded_squares(placed: Placement) -> dict[Corner, Extent]:
    """The square that each rounded corner of a piece lies in, one radius wide."""
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
