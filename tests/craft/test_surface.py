"""What is seen, covered and hidden on a card, against Shapely (GEOS) as a second opinion.

Coordinates are half millimetres, which floats hold exactly, so rectangles must agree exactly.
"""

import math
from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given

from tests.craft.cards import FINENESS, cards, rounded_shape, shape, union
from workbench.craft.arcs import Area
from workbench.craft.card import CORNERS, Piece, Rounding
from workbench.craft.geometry import Placement, front_extent, placements
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.surface import hidden, neighbours, overlap, piece_area, seen
from workbench.measure.length import ZERO, Length


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
        assert rounded_shape(placed).area == pytest.approx(
            exact, rel=1.001 * (1 - inscribed), abs=1e-6
        )


def test_a_rounded_corner_loses_0_2146_of_its_radius_squared() -> None:
    """A square less a quarter disc, r^2 (1 - pi/4): the trade's 0.2146 r^2, common practice."""
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


def _chords(radii: Iterable[Fraction]) -> float:
    """What Shapely's straight lines may take off the arcs of four corners of each radius."""
    step = math.pi / 2 / FINENESS
    return 1e-9 + sum(2 * FINENESS * (step - math.sin(step)) * float(r) ** 2 for r in radii)
