"""Rectangles and their borders, against Shapely (GEOS) as a second opinion.

Coordinates are half millimetres, which floats hold exactly, so rectangles must agree exactly.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.craft.cards import halves, shape, sizes, union
from workbench.craft.extent import Extent, remains
from workbench.measure.length import ZERO

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
