"""A card in another size: what stays, what follows, and that nothing else changes."""

import pytest
from hypothesis import assume, given, settings

from tests.craft.cards import cards, sizes
from tests.craft.projects import paper, piece, project, size
from tests.effort import examples
from workbench.craft.card import FRONT, Place
from workbench.craft.errors import CraftError
from workbench.craft.geometry import bearer_extent, placements
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.measure.length import Length

LARGE = (paper(size=size(900, 900)),)
BORDERED = project(piece("panel", size=size(90, 130)), papers=LARGE)


def borders(one: Project, name: str) -> list[Length]:
    (placed,) = (each for each in placements(one) if each.piece.name == name)
    found = bearer_extent(one, name).borders(placed.extent)
    return [found.left, found.right, found.bottom, found.top]


def test_borders_stay_and_what_is_between_them_follows() -> None:
    after = in_size(BORDERED, size(120, 100))
    assert after.piece("panel").size == size(110, 90)
    assert borders(after, "panel") == borders(BORDERED, "panel")


def test_a_side_by_a_wide_gap_grows_in_proportion() -> None:
    one = project(piece("label", size=size(40, 60), place=Place("left", "top")), papers=LARGE)
    after = in_size(one, size(200, 280))
    assert after.piece("label").size == size(80, 120)


def test_holes_stay_where_they_were_in_proportion() -> None:
    hole = Hole(Length.of(25, "mm"), Length.of(70, "mm"), size(4, 4))
    step = OwnStep("punch", FRONT, holes=(hole,))
    after = in_size(project(piece(), papers=LARGE, steps=(step,)), size(200, 70))
    (moved,) = after.steps[0].holes
    assert (moved.x, moved.y) == (Length.of(50, "mm"), Length.of(35, "mm"))
    assert moved.size == hole.size


@settings(max_examples=examples(12))
@given(cards(), sizes(40, 160))
def test_only_the_card_its_pieces_and_their_places_change(one: Project, front: Size) -> None:
    try:
        after = in_size(one, front)
    except CraftError:
        assume(False)
    assert after.card.size == front
    assert [each.name for each in after.pieces] == [each.name for each in one.pieces]
    assert in_size(one, one.card.size) is one
    for was, now in zip(one.pieces, after.pieces, strict=True):
        assert (was.papers, was.on, was.per_card) == (now.papers, now.on, now.per_card)


def test_what_its_paper_cannot_give_is_refused() -> None:
    with pytest.raises(CraftError):
        in_size(BORDERED, size(500, 500))
