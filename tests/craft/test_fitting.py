"""Sizing and placing pieces: what an edit promises, measured on the outcome by Shapely."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.craft.cards import cards, halves, shape
from tests.making.plans import HARBOUR, inches
from workbench.craft.card import CORNERS
from workbench.craft.errors import CraftError
from workbench.craft.fitting import (
    Side,
    aligned,
    bordered,
    copied,
    flush,
    narrower,
    nudged,
    spread_over,
    taken_away,
)
from workbench.craft.geometry import bearer_extent, extent_of, placements
from workbench.craft.mixing import FixedCard, Mixing
from workbench.craft.project import Project
from workbench.measure.length import ZERO, Length

SIDES: dict[Side, int] = {"left": 0, "bottom": 1, "right": 2, "top": 3}


def possible(edit: Callable[[], Project]) -> Project:
    try:
        return edit()
    except CraftError:
        assume(False)
        raise


@given(cards(rounded=True), halves(-9, 9), halves(-9, 9))
def test_a_nudge_moves_a_piece_and_what_is_glued_to_it(
    project: Project, right: Length, up: Length
) -> None:
    name = project.pieces[0].name
    before = {placed.piece.name: placed for placed in placements(project)}
    after = possible(lambda: nudged(project, name, right, up))
    for placed in placements(after):
        on = placed.piece
        while on.name != name and on.on in before:
            on = after.piece(on.on)
        moved = on.name == name
        was = before[placed.piece.name]
        assert placed.x - was.x == (right if moved else ZERO)
        assert placed.y - was.y == (up if moved else ZERO)


@given(cards(rounded=True), halves(0, 20))
def test_a_border_is_the_same_all_round(project: Project, border: Length) -> None:
    name = project.pieces[-1].name
    after = possible(lambda: bordered(project, name, border))
    inner, outer = shape(extent_of(after, name)), shape(bearer_extent(after, name))
    assert inner.equals(outer.buffer(-float(border.mm), join_style="mitre"))
    assert narrower(project, name, border * 2) == after


@given(cards(), st.sampled_from(sorted(SIDES)))
def test_flush_edges_lie_in_one_line(project: Project, side: Side) -> None:
    name, other = project.pieces[-1].name, project.pieces[0].name
    after = possible(lambda: flush(project, name, other, side))
    edges = [shape(extent_of(after, each)).bounds[SIDES[side]] for each in (name, other)]
    assert edges[0] == edges[1]


@given(cards(), st.data())
def test_a_piece_covers_the_extent_it_is_given(project: Project, data: st.DataObject) -> None:
    wanted = extent_of(project, data.draw(st.sampled_from(project.pieces)).name)
    name = project.pieces[-1].name
    assert extent_of(possible(lambda: spread_over(project, name, wanted)), name) == wanted


@given(cards(rounded=True))
def test_what_is_taken_away_leaves_all_else_where_it_was(project: Project) -> None:
    name = project.pieces[0].name
    after = possible(lambda: taken_away(project, name))
    before = {placed.piece.name: (placed.x, placed.y) for placed in placements(project)}
    del before[name]
    assert {placed.piece.name: (placed.x, placed.y) for placed in placements(after)} == before


def test_aligned_to_an_edge_or_the_centre() -> None:
    left = aligned(HARBOUR, "panel", across="left")
    assert extent_of(left, "panel").left == ZERO
    assert extent_of(left, "panel").bottom == inches("1/8")
    assert aligned(left, "panel", across="centre") == HARBOUR
    assert extent_of(aligned(HARBOUR, "tide", up="top"), "tide").top == inches("4 7/8")


def test_smaller_pieces_are_rounded_no_further_than_they_allow() -> None:
    small = bordered(HARBOUR, "panel", inches("1 15/16"))
    rounding = small.piece("panel").rounding
    assert rounding
    assert rounding.radius == inches("1/16")


def test_a_border_wider_than_the_piece_is_refused() -> None:
    with pytest.raises(CraftError, match="leaves nothing"):
        bordered(HARBOUR, "panel", inches(2))


def test_beyond_the_left_and_bottom_edge_is_refused_as_no_file_can_say_it() -> None:
    with pytest.raises(CraftError, match="beyond the left"):
        nudged(HARBOUR, "panel", -inches("1/4"), ZERO)


def test_copies_have_names_of_their_own_and_lie_just_in_front() -> None:
    twice = copied(copied(HARBOUR, "panel"), "panel")
    assert [piece.name for piece in twice.pieces] == [
        "panel",
        "copy 2 of panel",
        "copy of panel",
        "tide",
    ]
    assert replace(twice.pieces[1], name="panel") == HARBOUR.pieces[0]
    long = replace(HARBOUR, pieces=(replace(HARBOUR.pieces[0], name="p" * 60),))
    assert len(copied(copied(long, "p" * 60), "p" * 60).pieces) == 3


def test_what_a_rule_fixes_of_a_piece_goes_with_it() -> None:
    fixed = FixedCard(1, {"panel": "net weave", "tide": "gull dot"})
    project = replace(HARBOUR, mixing=Mixing(cards=(fixed, FixedCard(2, {"tide": "net weave"}))))
    assert taken_away(project, "tide").mixing.cards == (FixedCard(1, {"panel": "net weave"}),)


@given(cards(rounded=True), st.fractions(Fraction(1, 10), 3))
def test_edits_leave_corners_possible(project: Project, factor: Fraction) -> None:
    name = project.pieces[0].name
    piece = project.pieces[0]
    assume(piece.rounding and set(piece.rounding.corners) <= set(CORNERS))
    extent = extent_of(project, name)
    smaller = replace(extent, right=extent.left + extent.width * factor)
    after = possible(lambda: spread_over(project, name, smaller)).piece(name)
    assert after.rounding
    assert after.rounding.radius * 2 <= min(after.size.width, after.size.height)
