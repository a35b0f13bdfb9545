"""Random cards for the laws of geometry, and the same shapes as Shapely sees them."""

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from shapely import Point, Polygon, box, unary_union
from shapely.geometry.base import BaseGeometry

from workbench.craft.card import ACROSS, CORNERS, FOLDS, INSIDE, UP, Card, Piece, Place, Rounding
from workbench.craft.extent import Extent
from workbench.craft.geometry import Placement
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length

PAPER = Paper("kelp paper", "cardstock", Size(*[Length(Fraction(1000))] * 2), 9)
FINENESS = 256
"""Straight lines that Shapely makes of a quarter circle."""


def halves(low: int, high: int) -> st.SearchStrategy[Length]:
    """Half millimetres, which binary floats hold exactly: so Shapely may be asked for equality."""
    return st.integers(2 * low, 2 * high).map(lambda n: Length(Fraction(n, 2)))


def sizes(low: int, high: int) -> st.SearchStrategy[Size]:
    return st.builds(Size, halves(low, high), halves(low, high))


@st.composite
def cards(draw: Callable[[st.SearchStrategy[Any]], Any], *, rounded: bool = False) -> Project:
    pieces: list[Piece] = []
    for number in range(draw(st.integers(1, 5))):
        size = draw(sizes(2, 120))
        rounding = None
        if rounded and draw(st.booleans()):
            corners = draw(st.lists(st.sampled_from(CORNERS), min_size=1, unique=True))
            radius = min(size.width, size.height) * Fraction(draw(st.integers(1, 8)), 16)
            rounding = Rounding(tuple(corners), radius)
        x = draw(st.sampled_from(ACROSS) | halves(-20, 60))
        y = draw(st.sampled_from(UP) | halves(-20, 60))
        on = draw(st.sampled_from(["card", "inside", *(piece.name for piece in pieces)]))
        place = Place(x, y)
        piece = Piece(f"leaf {number}a", size, (PAPER.name,), place, rounding, on=on)
        pieces.append(piece)
        if rounded and draw(st.booleans()):  # a copy just over it, as like as two pieces can be
            pieces.append(Piece(f"leaf {number}b", size, (PAPER.name,), place, rounding, on=on))
    front = draw(sizes(40, 160))
    folds = FOLDS[:2] if any(piece.on == INSIDE for piece in pieces) else FOLDS
    card = Card(front, draw(st.sampled_from(folds)), PAPER.name, 1)
    return Project("Kelp", "mm", card, (PAPER,), tuple(pieces))


def shape(extent: Extent) -> Polygon:
    edges = (extent.left, extent.bottom, extent.right, extent.top)
    return box(*(float(edge.mm) for edge in edges))


def rounded_shape(placed: Placement) -> BaseGeometry:
    """The piece with its corners off: a square less, a disc more at each."""
    whole: BaseGeometry = shape(placed.extent)
    rounding = placed.piece.rounding
    if rounding is None:
        return whole
    radius = float(rounding.radius.mm)
    left, bottom, right, top = whole.bounds
    for corner in rounding.corners:
        x, inward = (left, 1) if "left" in corner else (right, -1)
        y, upward = (bottom, 1) if "bottom" in corner else (top, -1)
        ends = sorted((x, x + inward * radius)), sorted((y, y + upward * radius))
        square = box(ends[0][0], ends[1][0], ends[0][1], ends[1][1])
        disc = Point(x + inward * radius, y + upward * radius)
        whole = whole.difference(square.difference(disc.buffer(radius, quad_segs=FINENESS)))
    return whole


def union(shapes: list[BaseGeometry]) -> BaseGeometry:
    return unary_union(shapes)
