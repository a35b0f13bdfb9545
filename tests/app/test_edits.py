from dataclasses import replace

import pytest

from tests.making.plans import FOG, GULL, HARBOUR, NET, size
from workbench.app.edits import (
    with_offcut,
    with_paper,
    with_piece,
    with_piece_moved,
    without_offcut,
    without_paper,
    without_piece,
)
from workbench.craft.card import Piece
from workbench.craft.errors import CraftError
from workbench.craft.mixing import FixedCard, Mixing
from workbench.craft.paper import Offcut, Paper
from workbench.craft.project import Project

CHAIN = Paper("anchor chain", "patterned", size(6, 6))
CLOUD = Piece("cloud", size(1, 1), (NET,))
PANEL, TIDE = HARBOUR.pieces


def names(project: Project) -> list[str]:
    return [piece.name for piece in project.pieces]


def test_a_paper_is_added_and_removed() -> None:
    more = with_paper(HARBOUR, CHAIN)
    assert more.papers == (*HARBOUR.papers, CHAIN)
    assert without_paper(more, CHAIN.name) == HARBOUR


def test_a_new_name_of_a_paper_is_carried_to_everything_that_uses_it() -> None:
    project = with_offcut(HARBOUR, Offcut(NET, size(2, 3)))
    renamed = with_paper(project, replace(HARBOUR.paper(NET), name="mesh"), replacing=NET)
    assert [paper.name for paper in renamed.papers] == [FOG, "mesh", GULL]
    assert [piece.papers for piece in renamed.pieces] == [("mesh", GULL), ("mesh", GULL)]
    assert renamed.offcuts[0].paper == "mesh"
    base = with_paper(HARBOUR, replace(HARBOUR.paper(FOG), name="mist"), replacing=FOG)
    assert base.card.paper == "mist"


def test_a_paper_in_use_stays_and_says_for_what() -> None:
    with pytest.raises(CraftError, match='"panel", "tide"'):
        without_paper(HARBOUR, NET)
    with pytest.raises(CraftError, match="the card base"):
        without_paper(HARBOUR, FOG)
    spare = with_offcut(with_paper(HARBOUR, CHAIN), Offcut(CHAIN.name, size(1, 1)))
    with pytest.raises(CraftError, match="an offcut"):
        without_paper(spare, CHAIN.name)


def test_two_papers_cannot_have_one_name() -> None:
    with pytest.raises(CraftError, match="stands there twice"):
        with_paper(HARBOUR, replace(CHAIN, name=NET))


def test_offcuts_are_added_changed_and_removed_by_their_place() -> None:
    one, other = Offcut(NET, size(2, 3)), Offcut(GULL, size(1, 1), 4)
    project = with_offcut(with_offcut(HARBOUR, one), other)
    assert with_offcut(project, other, at=0).offcuts == (other, other)
    assert without_offcut(project, 0).offcuts == (other,)


def test_a_piece_is_added_where_it_is_wanted() -> None:
    assert names(with_piece(HARBOUR, CLOUD)) == ["panel", "tide", "cloud"]
    assert names(with_piece(HARBOUR, CLOUD, at=1)) == ["panel", "cloud", "tide"]


def test_a_new_name_of_a_piece_is_carried_to_those_glued_to_it() -> None:
    renamed = with_piece(HARBOUR, replace(PANEL, name="field"), replacing="panel")
    assert [(piece.name, piece.on) for piece in renamed.pieces] == [
        ("field", "card"),
        ("tide", "field"),
    ]


def test_a_piece_that_carries_another_stays() -> None:
    with pytest.raises(CraftError, match='"tide" is glued to it'):
        without_piece(HARBOUR, "panel")
    assert names(without_piece(HARBOUR, "tide")) == ["panel"]


def test_a_piece_moves_a_layer_at_a_time_and_no_further_than_the_last() -> None:
    project = with_piece(HARBOUR, CLOUD)
    back = with_piece_moved(project, "cloud", -1)
    assert names(back) == ["panel", "cloud", "tide"]
    assert with_piece_moved(back, "cloud", 1) == project
    assert with_piece_moved(project, "cloud", 1) == project
    assert names(with_piece_moved(back, "cloud", -1)) == ["cloud", "panel", "tide"]


@pytest.mark.parametrize(("name", "by"), [("tide", -1), ("panel", 1)])
def test_a_piece_never_lies_behind_what_it_is_glued_to(name: str, by: int) -> None:
    with pytest.raises(CraftError, match='it is glued to "panel" and cannot lie behind it'):
        with_piece_moved(HARBOUR, name, by)


def test_a_piece_too_large_for_its_papers_is_refused() -> None:
    with pytest.raises(CraftError, match="larger than a sheet"):
        with_piece(HARBOUR, replace(CLOUD, size=size(7, 7)))


def test_a_piece_goes_with_what_was_fixed_of_it() -> None:
    fixed = FixedCard(1, {"panel": NET, "tide": GULL})
    ruled = replace(HARBOUR, mixing=Mixing(cards=(fixed,)))
    (card,) = without_piece(ruled, "tide").mixing.cards
    assert card.shows == {"panel": NET}
