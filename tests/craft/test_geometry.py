"""Borders, overlaps, visible areas and what is hidden, against Shapely (GEOS) as a second opinion.

Coordinates are half millimetres, which floats hold exactly, so rectangles must agree exactly.
"""

import math
from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.craft.cards import FINENESS, cards, halves, rounded_shape, shape, sizes, union
from workbench.craft.arcs import Area
from workbench.craft.card import CORNERS, Piece, Rounding
from workbench.craft.extent import Extent, remains
from workbench.craft.geometry import Placement, bearer_extent, front_extent, placements
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.surface import hidden, neighbours, overlap, piece_area, seen
from workbench.measure.length import ZERO, Length

EXTENTS = st.builds(Extent.of, halves(-30, 60), halves(-30, 60), sizes(1, 60))


@given(EXTENTS, EXTENTS)
def test_what_two_rectangles_share_and_leave(one: Extent, other: Extent) -> None:
    shared = one.shared(other)
    assert (shared.area if shared else 0) == shape(one).intersection(shape(other)).area
    left = list(one.without(other))
    assert sum(part.area for part in left) == shape(one).difference(shape(other)).area
    assert sum(part.area for part in left) + (shared.area if shared else 0) == one.area


@given(EXTENTS, EXTENTS)
def test_rectangles_touch_where_their_outlines_share_a_line(one: Extent, other: Extent) -> None:
    outlines = shape(one).intersection(shape(other))
    assert one.touches(other) >= (outlines.geom_type == "LineString")
    if outlines.area == 0:
        assert one.touches(other) == (outlines.length > 0)


@given(EXTENTS, st.lists(EXTENTS, max_size=6))
def test_what_covers_leave(whole: Extent, covers: list[Extent]) -> None:
    left = remains([whole], covers)
    wanted = shape(whole).difference(union([shape(cover) for cover in covers]))
    assert float(sum(part.area for part in left)) == pytest.approx(wanted.area, abs=1e-9)
    assert bool(left) == (wanted.area > 0)
    assert union([shape(part) for part in left]).symmetric_difference(wanted).area < 1e-9


@given(EXTENTS, EXTENTS)
def test_borders_are_what_shapely_measures_between_edges(outer: Extent, inner: Extent) -> None:
    left, bottom, right, top = shape(outer).bounds
    inside = shape(inner).bounds
    borders = outer.borders(inner)
    measured = (inside[0] - left, inside[1] - bottom, right - inside[2], top - inside[3])
    edges = (borders.left, borders.bottom, borders.right, borders.top)
    assert [edge.mm for edge in edges] == list(measured)
    assert (borders.least >= ZERO) == shape(outer).covers(shape(inner))


@given(cards())
def test_what_is_seen_of_every_layer(project: Project) -> None:
    for inside in (False, True):
        stack = [placed for placed in placements(project) if placed.inside == inside]
        extents = [front_extent(project), *(placed.extent for placed in stack)]
        layers = seen(project, inside=inside)
        assert [layer.name for layer in layers[1:]] == [placed.piece.name for placed in stack]
        for at, layer in enumerate(layers):
            above = union([shape(extent) for extent in extents[at + 1 :]])
            wanted = shape(extents[at]).intersection(shape(extents[0])).difference(above)
            assert layer.area == Area(sum((part.area for part in layer.parts), Fraction(0)))
            assert float(layer.area) == pytest.approx(wanted.area, abs=1e-9)
        assert sum(layer.area.square for layer in layers) == extents[0].area


@given(cards(rounded=True))
def test_what_is_seen_of_every_layer_with_its_corners_off(project: Project) -> None:
    for inside in (False, True):
        stack = [placed for placed in placements(project) if placed.inside == inside]
        front = front_extent(project)
        shapes = [shape(front), *map(rounded_shape, stack)]
        layers = seen(project, inside=inside)
        radii = [p.piece.rounding.radius.mm for p in stack if p.piece.rounding]
        for at, layer in enumerate(layers):
            wanted = shapes[at].intersection(shapes[0]).difference(union(shapes[at + 1 :]))
            assert float(layer.area) == pytest.approx(wanted.area, abs=_chords(radii))
        whole = sum((layer.area for layer in layers), Area())
        assert float(whole) == pytest.approx(float(front.area), abs=1e-9)


@given(cards(rounded=True))
def test_overlaps_of_rounded_pieces(project: Project) -> None:
    for one, other in combinations(placements(project), 2):
        wanted = rounded_shape(one).intersection(rounded_shape(other)).area
        radii = [p.piece.rounding.radius.mm for p in (one, other) if p.piece.rounding]
        assert float(overlap(one, other)) == pytest.approx(wanted, abs=_chords(radii))
        if not radii:
            shared = one.extent.shared(other.extent)
            assert overlap(one, other) == Area(shared.area if shared else Fraction(0))


def _chords(radii: Iterable[Fraction]) -> float:
    """What Shapely's straight lines may take off the arcs of four corners of each radius."""
    step = math.pi / 2 / FINENESS
    return 1e-9 + sum(2 * FINENESS * (step - math.sin(step)) * float(r) ** 2 for r in radii)


def test_whole_arcs_are_exact_and_arcs_cut_through_are_known_to_a_billionth() -> None:
    """Checked by hand: a disc's quarter, and one cut by an edge halfway up (memory: the area under
    y = sqrt(1 - x^2) from 0 to 1/2 is sqrt(3)/8 + pi/12)."""
    side = Length(Fraction(2))
    round_ = Piece("leaf", Size(side, side), ("kelp",), rounding=Rounding(("top right",), side / 2))
    low = Piece("band", Size(side, side * Fraction(3, 4)), ("kelp",))
    leaf, band = (Placement(piece, ZERO, ZERO, inside=False) for piece in (round_, low))
    assert overlap(leaf, leaf) == Area(Fraction(3), Fraction(1, 4))
    assert float(overlap(leaf, band)) == pytest.approx(
        2 + 1 / 2 + math.sqrt(3) / 8 + math.pi / 12, abs=1e-9
    )


@given(cards())
def test_neighbours_are_seen_along_a_common_line(project: Project) -> None:
    layers = seen(project)
    shapes = {layer.name: union([shape(part) for part in layer.parts]) for layer in layers}
    for at, lower in enumerate(layers):
        for upper in layers[at + 1 :]:
            common = shapes[lower.name].intersection(shapes[upper.name])
            assert ((lower.name, upper.name) in neighbours(layers)) == (common.length > 1e-9)


@given(cards(rounded=True))
def test_areas_of_rounded_pieces(project: Project) -> None:
    for placed in placements(project):
        area = piece_area(placed.piece)
        exact = float(area.square) + math.pi * float(area.pi)
        # A disc of n straight lines is smaller than the round one.
        inscribed = math.sin(math.pi / 2 / FINENESS) * 2 * FINENESS / math.pi
        assert rounded_shape(placed).area == pytest.approx(exact, rel=1 - inscribed, abs=1e-6)


def test_a_rounded_corner_loses_0_2146_of_its_radius_squared() -> None:
    """Source: memory (r^2 (1 - pi/4)), and to four places the trade's own 0.2146."""
    side = Length(Fraction(10))
    piece = Piece("leaf", Size(side, side), ("kelp",), rounding=Rounding(("top left",), side / 5))
    area = piece_area(piece)
    lost = 100 - float(area.square) - math.pi * float(area.pi)
    assert lost == pytest.approx(0.2146 * 4, abs=1e-4)


@given(cards(rounded=True))
def test_what_is_hidden_shows_nothing_and_what_shows_is_not_hidden(project: Project) -> None:
    stack = [placed for placed in placements(project) if not placed.inside]
    for at, placed in enumerate(stack):
        above = union([rounded_shape(cover) for cover in stack[at + 1 :]])
        shows = rounded_shape(placed).difference(above).area
        if hidden(placed, stack[at + 1 :]):
            assert shows < 1e-6
        elif all(cover.piece.rounding is None for cover in stack):
            assert shows > 0


def test_an_exact_copy_hides_a_rounded_piece_but_one_rounded_further_does_not() -> None:
    side = Length(Fraction(30))

    def placed(radius: int) -> Placement:
        rounding = Rounding(CORNERS, Length(Fraction(radius)))
        piece = Piece("leaf", Size(side, side), ("kelp",), rounding=rounding)
        return Placement(piece, ZERO, ZERO, inside=False)

    assert hidden(placed(3), [placed(3)])
    assert hidden(placed(3), [placed(2)])
    assert not hidden(placed(3), [placed(4)])


@given(cards())
def test_the_bearer_of_a_piece_is_the_card_or_the_piece_it_is_glued_to(project: Project) -> None:
    found = {placed.piece.name: placed.extent for placed in placements(project)}
    for piece in project.pieces:
        wanted = found.get(piece.on, front_extent(project))
        assert bearer_extent(project, piece.name) == wanted
