"""What is found in the stock, the rules and a bare card; nothing in a careful project."""

from dataclasses import replace

import pytest

from tests.making.plans import GULL, HARBOUR, NET, size
from workbench.craft.checks import findings
from workbench.craft.mixing import Mixing
from workbench.craft.paper import Offcut
from workbench.craft.project import Project


def doubted(project: Project) -> list[str]:
    return [str(finding) for finding in findings(project)]


def test_a_card_with_nothing_on_it_is_doubted() -> None:
    bare = replace(HARBOUR, pieces=())
    assert doubted(bare) == ["card base: nothing is glued to it. The batch would be of bare cards."]


@pytest.mark.parametrize("sides", [("6 1/16", 6), (7, 5), (5, 7)])
def test_an_offcut_larger_than_its_sheet_either_way_is_doubted(
    sides: tuple[str | int, ...],
) -> None:
    square = replace(HARBOUR.papers[2], size=size(6, 6))
    project = replace(
        HARBOUR, papers=(*HARBOUR.papers[:2], square), offcuts=(Offcut(GULL, size(*sides)),)
    )
    (doubt,) = doubted(project)
    assert doubt.startswith(f'offcut of "{GULL}": {sides[0]} in × {sides[1]} in is more than')


@pytest.mark.parametrize("sides", [(6, 6), (5, 8), (8, 5)])
def test_an_offcut_that_fits_its_sheet_one_way_is_not_doubted(sides: tuple[int, int]) -> None:
    paper = replace(HARBOUR.papers[2], size=size(6, 8))
    papers = (*HARBOUR.papers[:2], paper)
    assert doubted(replace(HARBOUR, papers=papers, offcuts=(Offcut(GULL, size(*sides)),))) == []


def test_papers_both_apart_and_together_are_doubted() -> None:
    """By what the rules say: never both, never just one, so neither."""
    at_odds = Mixing(apart=((GULL, NET),), together=((NET, GULL),))
    assert doubted(replace(HARBOUR, mixing=at_odds)) == [
        f'mixing: "{GULL}" and "{NET}" are to be apart and together. '
        "Only cards that show neither keep both rules."
    ]
    assert doubted(replace(HARBOUR, mixing=replace(at_odds, together=()))) == []


def test_a_repeat_that_allows_nothing_is_doubted() -> None:
    apart = tuple(
        replace(piece, papers=(GULL if number else NET,))
        for number, piece in enumerate(HARBOUR.pieces)
    )
    one, other = (piece.name for piece in apart[:2])
    idle = replace(HARBOUR, pieces=apart, mixing=Mixing(repeat=((one, other),)))
    assert [each for each in doubted(idle) if "same print" in str(each)]
    assert doubted(replace(HARBOUR, mixing=Mixing(repeat=((one, other),)))) == []
