"""What is bought counts apart from what is on hand."""

from collections import Counter
from dataclasses import replace

import pytest

from tests.planning.parts import search_of, subproblem
from workbench.planning.instance.instance import Subproblem
from workbench.planning.shape import Shape
from workbench.planning.shortage import (
    bought,
    even_shares,
    most_cards,
    out_of_stock,
    to_be_bought,
)


def of_two_papers(dot: Shape, weave: Shape) -> Subproblem:
    """Nine pieces from either paper, of sheets so large."""
    group = subproblem(dot, {(3, 4): 9})
    (item,), (supply,) = group.items, group.supplies
    supplies = tuple(
        replace(supply, paper=paper, sources=(replace(supply.sheet, width=w, height=h),))
        for paper, (w, h) in {"dot": dot, "weave": weave}.items()
    )
    return replace(group, items=(replace(item, papers=("dot", "weave")),), supplies=supplies)


def test_only_what_the_paper_on_hand_lacks_is_bought() -> None:
    group = subproblem((6, 8), {(3, 4): 9}, sheets=2)
    cutting = search_of(to_be_bought(group)).fewest()
    assert bought(cutting.layouts) == Counter({"sheet": 1})
    sources = {layout.source for layout in out_of_stock(group, cutting.layouts)}
    assert sources == {group.supplies[0].sheet}


@pytest.mark.parametrize(
    ("bought", "shares"),
    [
        ({"dot": 5, "weave": 1}, {"dot": 3, "weave": 3}),
        ({"dot": 3}, {"dot": 2, "weave": 2}),
        ({"dot": 2, "weave": 1}, {}),
        ({}, {}),
    ],
)
def test_papers_that_serve_alike_are_bought_evenly(
    bought: dict[str, int], shares: dict[str, int]
) -> None:
    assert even_shares(of_two_papers((6, 8), (6, 8)), bought) == shares


def test_papers_of_two_sizes_are_bought_as_each_is_needed() -> None:
    assert even_shares(of_two_papers((6, 8), (8, 6)), {"dot": 5, "weave": 1}) == {}


@pytest.mark.parametrize("able", range(9))
def test_the_most_cards_are_found_by_halving(able: int) -> None:
    assert most_cards(9, lambda cards: cards <= able) == able
