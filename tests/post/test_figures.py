"""What a card weighs and how thick it is, against other computations of the same."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.craft.cards import cards, rounded_shape
from tests.effort import examples
from tests.post.letters import card, paper, size
from workbench.craft.card import CORNERS, FRONT, Piece, Place, Rounding
from workbench.craft.extra import Extra
from workbench.craft.geometry import Placement, front_extent, placements
from workbench.craft.piles import Pile, piles
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.post.figures import card_figures

STEP = 0.5  # millimetres between the spots of the raster
A6 = size("105", "148", "mm")


def mm(value: str) -> Length:
    return Length.of(value, "mm")


def weighed(project: Project) -> Project:
    """The card with every paper's figures known."""
    papers = tuple(
        replace(paper, weight="200 gsm", thickness="0.25 mm") for paper in project.papers
    )
    return replace(project, papers=papers)


@settings(max_examples=examples(25), deadline=None)
@given(cards(rounded=True).map(weighed))
def test_a_card_weighs_what_its_areas_by_shapely_weigh(project: Project) -> None:
    # The second computation of every area, what lies under others included, is Shapely's.
    base = project.card.base_size
    square_mm = float(base.width.mm * base.height.mm)
    square_mm += sum(rounded_shape(placed).area for placed in placements(project))
    grams = card_figures(project).grams
    assert grams.known
    assert abs(float(grams.low) - square_mm * 200 / 1e6) < 1e-5 * square_mm * 200 / 1e6


def covers(placed: Placement, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Which spots a piece covers: within its edges, and within the disc at a rounded corner."""
    left, bottom, right, top = (
        float(edge.mm)
        for edge in (
            placed.extent.left,
            placed.extent.bottom,
            placed.extent.right,
            placed.extent.top,
        )
    )
    over = (left < x) & (x < right) & (bottom < y) & (y < top)
    rounding = placed.piece.rounding
    for corner in rounding.corners if rounding else ():
        assert rounding
        radius = float(rounding.radius.mm)
        across = left + radius if "left" in corner else right - radius
        up = bottom + radius if "bottom" in corner else top - radius
        beyond_x = x < across if "left" in corner else x > across
        beyond_y = y < up if "bottom" in corner else y > up
        over &= ~(beyond_x & beyond_y & ((x - across) ** 2 + (y - up) ** 2 > radius**2))
    return over


@settings(max_examples=examples(25), deadline=None)
@given(cards(rounded=True).map(weighed))
def test_a_card_is_as_thick_as_a_raster_of_its_layers_finds(project: Project) -> None:
    # Brute force: every spot of a raster asks each piece whether it lies there.
    stack = placements(project)
    front = front_extent(project)
    extents = [front, *(placed.extent for placed in stack)]
    low_x, high_x = (
        float(min(each.left for each in extents).mm),
        float(max(each.right for each in extents).mm),
    )
    low_y, high_y = (
        float(min(each.bottom for each in extents).mm),
        float(max(each.top for each in extents).mm),
    )
    # Off the half millimetres on which the edges lie.
    x, y = np.meshgrid(
        np.arange(low_x + STEP / 2, high_x, STEP), np.arange(low_y + STEP / 2, high_y, STEP)
    )
    right, top = float(front.right.mm), float(front.top.mm)
    on_card = (x > 0) & (x < right) & (y > 0) & (y < top)
    layers = [on_card, *(covers(placed, x, y) for placed in stack)]
    codes = sum(layer.astype(np.int64) << bit for bit, layer in enumerate(layers))
    found = set(np.unique(codes).tolist())
    exact = {code_of(pile, stack) for pile in piles(project)}
    assert found - {0} <= exact
    leaves = 1 if project.card.fold == "none" else 2
    depth = leaves * on_card + sum(layer.astype(int) for layer in layers[1:])
    thick = card_figures(project).thickness.low
    assert thick >= Fraction(1, 4) * int(depth.max())
    if exact <= found:  # a pile that the raster misses is smaller than its meshes
        assert thick == Fraction(1, 4) * int(depth.max())
        least = int(depth[on_card].min())
        assert card_figures(project).unevenness.low == thick - Fraction(1, 4) * least


def code_of(pile: Pile, stack: tuple[Placement, ...]) -> int:
    names = {*pile.inside, *pile.front}
    return pile.base + sum(
        1 << bit for bit, placed in enumerate(stack, 1) if placed.piece.name in names
    )


def corner_piece(name: str, x: str, y: str, radius: str) -> Piece:
    return Piece(
        name,
        size("20", "20", "mm"),
        ("birch card",),
        Place(mm(x), mm(y)),
        Rounding(CORNERS, mm(radius)),
    )


def test_corners_that_are_rounded_away_do_not_lie_on_one_another() -> None:
    # Two squares of 20 mm share a square of 1 mm, and discs of 10 mm leave nothing of it:
    # the centres are 19 x sqrt 2 = 26.9 mm apart, more than 2 x 10.
    apart = card(A6, corner_piece("one", "10", "10", "10"), corner_piece("other", "29", "29", "10"))
    assert card_figures(apart).thickness.low == Fraction("0.75")
    # Rounded by 1 mm the centres are 19 - 18 = 1 mm apart each way: 1.41 mm, less than 2 x 1.
    near = card(A6, corner_piece("one", "10", "10", "1"), corner_piece("other", "29", "29", "1"))
    assert card_figures(near).thickness.low == 1


def test_pieces_edge_to_edge_do_not_lie_on_one_another() -> None:
    half = size("50", "100", "mm")
    left = Piece("left leaf", half, ("birch card",), Place(mm("0"), mm("0")))
    right = Piece("right leaf", half, ("birch card",), Place(mm("50"), mm("0")))
    assert card_figures(card(A6, left, right)).thickness.low == Fraction("0.75")


def test_foam_pads_and_extras_stand_where_they_may_lie() -> None:
    mat = Piece("mat", size("90", "120", "mm"), ("birch card",))
    tag = Piece("tag", size("40", "40", "mm"), ("birch card",), on="mat", raised=mm("1"))
    bare = card_figures(card(A6, mat, tag))
    assert bare.thickness.low == Fraction("0.25") * 4 + 1
    # A bead on the mat lies beside the tag: base, mat and bead, no thicker than tag and pads.
    bead = Extra("bead", "0.5 g", "2 mm", "mat", 3)
    beaded = card_figures(card(A6, mat, tag, extras=(bead,)))
    assert beaded.thickness.low == Fraction("0.25") * 3 + 2
    assert beaded.grams.low == bare.grams.low + Fraction("1.5")
    assert beaded.lumps == ("bead",)
    # On the tag it lies on top of all.
    on_tag = replace(bead, on="tag")
    assert card_figures(card(A6, mat, tag, extras=(on_tag,))).thickness.low == 4


def test_an_even_card_is_even_whatever_its_paper_is() -> None:
    plain = card(A6)
    unknown = replace(plain, papers=(paper("birch card", None, None),))
    assert not card_figures(plain).unevenness.high
    assert not card_figures(unknown).unevenness.high
    assert not card_figures(unknown).thickness.known


def test_missing_figures_say_what_is_likely_and_how_to_measure() -> None:
    plain = replace(card(A6), papers=(paper("birch card", "200 gsm", None),))
    (missing,) = card_figures(plain).missing
    # GPO/JCP (1999): from 0.45 mm at 405 g/m2 (tag) to 0.140 mm at 105 g/m2 (text).
    assert missing.likely == "0.22 to 0.27 mm, 0.009 to 0.01 in"
    assert "10 sheets" in missing.measure
    assert str(missing).startswith('the thickness of "birch card" is not known')
    nothing = replace(plain, papers=(paper("birch card", None, "0.25 mm"),))
    (unweighed,) = card_figures(nothing).missing
    # Ten sheets of 0.7 x 1 m are 7 square metres: 1 / 7.
    assert unweighed.what == "weight"
    assert "multiply by 0.14" in unweighed.measure


def test_only_the_papers_of_the_card_are_missing() -> None:
    spare = card(A6, papers=(paper("spare", None, None),))
    assert card_figures(spare).missing == ()


@given(st.integers(1, 4))
def test_every_copy_of_a_piece_weighs(copies: int) -> None:
    mat = Piece("mat", size("100", "100", "mm"), ("birch card",), per_card=copies)
    grams = card_figures(card(A6, mat)).grams
    assert grams.low == grams.high == card_figures(card(A6)).grams.low + 2 * copies


def test_the_finished_size_holds_what_sticks_out() -> None:
    flag = Piece("flag", size("30", "20", "mm"), ("birch card",), Place(mm("95"), mm("140")))
    found = card_figures(card(A6, flag)).size
    assert (found.width, found.height) == (mm("125"), mm("160"))
    assert flag.on == FRONT
