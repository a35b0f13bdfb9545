"""A piece several times on a card: where its copies lie; what lies on more than one layer."""

from dataclasses import replace

import pytest

from tests.making.plans import FOG, HARBOUR, inches, size
from workbench.craft.card import Piece, Place, Spread
from workbench.craft.checks import findings
from workbench.craft.fitting import nudged
from workbench.craft.geometry import copies_of, placements, top_piece_at
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.drawing.cards import draw_card
from workbench.measure.length import Length
from workbench.measure.numerals import mixed


def with_corners(spread: Spread, per_card: int = 4) -> Project:
    corner = Piece(
        "corner",
        size("1/2", "1/2"),
        (FOG,),
        Place(inches("1/4"), inches("1/4")),
        per_card=per_card,
        on="panel",
        spread=spread,
    )
    return replace(HARBOUR, pieces=(*HARBOUR.pieces[:1], corner))


def lefts_and_bottoms(project: Project) -> list[tuple[str, str]]:
    placed = next(each for each in placements(project) if each.piece.name == "corner")
    under = next(each for each in placements(project) if each.piece.name == "panel")
    copies = copies_of(project, placed)
    return [(str((c.x - under.x).number("in")), str((c.y - under.y).number("in"))) for c in copies]


def test_four_mirrored_lie_in_the_corners() -> None:
    project = with_corners("mirrored")
    panel = project.piece("panel").size
    right = str((panel.width - inches("3/4")).number("in"))
    top = str((panel.height - inches("3/4")).number("in"))
    places = lefts_and_bottoms(project)
    assert places == [("1/4", "1/4"), (right, "1/4"), ("1/4", top), (right, top)]


def test_a_row_is_even_and_at_marks() -> None:
    places = lefts_and_bottoms(with_corners("in a row", 3))
    panel = HARBOUR.piece("panel").size
    assert places[0] == ("1/4", "1/4")
    assert places[2][0] == str((panel.width - inches("3/4")).number("in"))
    assert len(set(places)) == 3


def test_loose_ones_lie_on_one_another_and_a_nudge_moves_all_that_are_mirrored() -> None:
    assert len(set(lefts_and_bottoms(with_corners("loose")))) == 1
    before = lefts_and_bottoms(with_corners("mirrored"))
    moved = nudged(with_corners("mirrored"), "corner", inches("1/8"), inches("1/8"))
    after = lefts_and_bottoms(moved)
    assert after[0] == ("3/8", "3/8")
    assert all(one != other for one, other in zip(before, after, strict=True))


def test_each_copy_is_drawn_and_can_be_taken_up_with_the_mouse() -> None:
    project = with_corners("mirrored")
    assert (
        draw_card(project, None, 40, 24).lines()
        != draw_card(with_corners("loose"), None, 40, 24).lines()
    )
    card = project.card.size
    there = top_piece_at(
        project, card.width - inches("1/2"), card.height - inches("1/2"), inside=False
    )
    assert there is not None
    assert there.layer == "corner 4"


@pytest.mark.parametrize(
    ("spread", "strip", "per_card", "where", "places"),
    [
        # On a panel of 3 3/4 x 4 3/4 in: 4 3/4 - 3 x 1/2 leaves four gaps of 13/16 in.
        ("in a row", size("3 1/2", "1/2"), 3, "on one spot", ["13/16", "2 1/8", "3 7/16"]),
        ("in a row", size("1/2", "4 1/2"), 2, "on one spot", ["15/16", "2 5/16"]),
        ("mirrored", size("3 1/2", "1/2"), 4, "on one spot", None),
        ("in a row", size("3 1/2", "1 1/2"), 4, "on one spot", []),
    ],
)
def test_strips_that_lie_on_one_spot_are_doubted_once_and_spread_out(
    spread: Spread, strip: Size, per_card: int, where: str, places: list[str] | None
) -> None:
    piece = Piece("strip", strip, (FOG,), per_card=per_card, on="panel", spread=spread)
    project = replace(HARBOUR, pieces=(HARBOUR.piece("panel"), piece))
    (doubt,) = [found for found in findings(project) if found.kind == "hidden"]
    assert doubt.wrong == f"the {per_card} on a card lie {where} and hide one another"
    assert "each in its place" in doubt.mend
    if places == []:  # there is no room for so many
        assert doubt.mended is None
        return
    assert doubt.mended
    assert not findings(doubt.mended)
    mended = doubt.mended.piece("strip")
    assert mended.spread == "placed"
    if places:
        each = [mended.place_of(number) for number in range(1, per_card + 1)]
        assert places == [
            mixed(side.number("in"))
            for place in each
            for side in (place.x, place.y)
            if isinstance(side, Length)
        ]


@pytest.mark.parametrize(("on", "told"), [("card", True), ("panel", False)])
def test_what_lies_on_more_than_it_is_glued_to_is_doubted_and_mended(on: str, told: bool) -> None:
    tag = Piece("tag", size(1, 1), (FOG,), on=on)
    project = replace(HARBOUR, pieces=(HARBOUR.piece("panel"), tag))
    found = [doubt for doubt in findings(project) if doubt.kind == "also on"]
    assert bool(found) is told
    if told:
        assert "it also lies on the panel" in found[0].wrong
        assert found[0].mended is not None
        assert found[0].mended.piece("tag").on == "panel"
