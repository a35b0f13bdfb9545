"""Published cutting problems with known answers."""

from collections.abc import Sequence
from itertools import product
from math import ceil

import pytest

from tests.effort import FOR_SHEETS
from tests.planning.checker import plan_faults
from tests.planning.parts import best_sheet, search_of, subproblem
from tests.planning.projects import ONE_BY_ONE, patterned, plain, project, size
from workbench.craft.card import MOST_A_CARD, Piece
from workbench.planning.bound.guillotine_dp import ValuedRectangle
from workbench.planning.driver import make_plan
from workbench.planning.layouts.tree import Leaf, Node
from workbench.planning.progress import Watch
from workbench.planning.shape import WIDTH

# gcut1: a 250 x 250 sheet; value is area; as many copies as fit.
# Data: J. E. Beasley, J. Oper. Res. Soc. 36 (1985) 297-306, problem gcut1.
GCUT1 = [
    (167, 184),
    (114, 118),
    (167, 152),
    (83, 140),
    (70, 86),
    (143, 166),
    (120, 160),
    (66, 148),
    (87, 141),
    (69, 165),
]

# cgcut1: a 15 x 10 sheet; (width, height, value, how many at most).
# Data: N. Christofides and C. Whitlock, Oper. Res. 25 (1977) 30-44, problem 1.
CGCUT1 = [
    (8, 4, 66, 2),
    (3, 7, 35, 1),
    (8, 2, 24, 3),
    (3, 4, 17, 5),
    (3, 3, 11, 2),
    (3, 2, 8, 2),
    (2, 1, 2, 1),
]
CGCUT1_LIMITED = 244
CGCUT1_UNLIMITED = 249


# Best values: G. Cintra's results page for these problems (the same work as G. Cintra et al.,
# Eur. J. Oper. Res. 191 (2008) 61-85).
@pytest.mark.parametrize(("turning", "value"), [(False, 56460), (True, 58136)])
def test_the_best_sheet_of_gcut1(turning: bool, value: int) -> None:
    prizes = [ValuedRectangle(n, w, h, w * h) for n, (w, h) in enumerate(GCUT1)]
    found, layout = best_sheet(250, 250, prizes, turning=turning)
    assert found == value
    cut = [leaf for leaf in edge_to_edge(layout, 250, 250) if leaf.item is not None]
    assert sum(leaf.width * leaf.height for leaf in cut) == value
    for leaf in cut:
        side, other = (leaf.height, leaf.width) if leaf.turned else (leaf.width, leaf.height)
        assert GCUT1[leaf.item or 0] == (side, other)
        assert turning or not leaf.turned


def edge_to_edge(node: Node, width: int, height: int) -> list[Leaf]:
    """The parts that a rectangle falls into, every cut followed from edge to edge."""
    assert (node.width, node.height) == (width, height)
    if isinstance(node, Leaf):
        return [node]
    found = []
    for mark, first in node.cuts:
        if node.direction is WIDTH:
            found += edge_to_edge(first, mark, height)
            width -= mark
        else:
            found += edge_to_edge(first, width, mark)
            height -= mark
    return found + edge_to_edge(node.rest, width, height)


def test_the_best_sheet_of_cgcut1_without_limits_on_copies() -> None:
    prizes = [ValuedRectangle(n, w, h, value) for n, (w, h, value, _) in enumerate(CGCUT1)]
    assert best_sheet(15, 10, prizes, turning=False)[0] == CGCUT1_UNLIMITED


def worth(counts: Sequence[int]) -> int:
    return sum(count * value for count, (_, _, value, _) in zip(counts, CGCUT1, strict=True))


def just_above(least: int) -> list[tuple[int, ...]]:
    """The sets of pieces worth more than `least`, within the limits and the sheet's area, that
    are worth no more than `least` when any one piece is left out."""
    return [
        counts
        for counts in product(*(range(most + 1) for _, _, _, most in CGCUT1))
        if least < worth(counts)
        and sum(n * w * h for n, (w, h, _, _) in zip(counts, CGCUT1, strict=True)) <= 15 * 10
        and all(
            worth(counts) - value <= least
            for n, (_, _, value, _) in zip(counts, CGCUT1, strict=True)
            if n
        )
    ]


def sheets_for(counts: Sequence[int]) -> int:
    pieces = [
        Piece(f"{w} x {h}", size(w, h, "mm"), ("print",), per_card=count)
        for count, (w, h, _, _) in zip(counts, CGCUT1, strict=True)
        if count
    ]
    asked = project("mm", 1, [patterned("print", size(15, 10, "mm"), 3, "up")], pieces)
    plan = make_plan(asked, ONE_BY_ONE, Watch(limits=FOR_SHEETS))
    assert plan.totals.proven
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    return sum(sheet.paper == "print" for sheet in plan.sheets)


def searched_for(counts: Sequence[int]) -> int:
    """As many sheets, proven, by the search alone: no steps and no cards."""
    demand = {(w, h): n for n, (w, h, _, _) in zip(counts, CGCUT1, strict=True) if n}
    cutting = search_of(subproblem((15, 10), demand, 3)).fewest()
    assert cutting.sheets == cutting.fewest
    return cutting.sheets


def test_one_sheet_of_cgcut1_is_worth_244_and_no_more() -> None:
    best = (2, 1, 1, 2, 1, 1, 0)
    assert worth(best) == CGCUT1_LIMITED
    assert sheets_for(best) == 1
    above = just_above(CGCUT1_LIMITED)
    assert len(above) == 42
    assert {searched_for(counts) for counts in above} == {2}
    assert sheets_for(above[0]) == 2


# Strips: a sheet one unit high. (Length of the stock, {length of a piece: how many}, fewest.)
STRIPS = {
    # Data and linear bound 452.25: V. Chvatal, Linear Programming (1983), the raw rolls of 100.
    "Chvatal's rolls": (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
    # Data and the answer of 73 rolls: Wikipedia, "Cutting stock problem", the 5600 mm example.
    "the 5600 mm rolls": (
        5600,
        {
            1380: 22,
            1520: 25,
            1560: 12,
            1710: 14,
            1820: 18,
            1880: 18,
            1930: 20,
            2000: 10,
            2050: 12,
            2100: 14,
            2140: 16,
            2150: 18,
            2200: 20,
        },
        73,
    ),
}


@pytest.mark.parametrize("name", STRIPS)
def test_strips(name: str) -> None:
    length, demand, fewest = STRIPS[name]
    pieces = []
    for side, count in demand.items():
        lots = ceil(count / MOST_A_CARD)
        for lot in range(lots):
            copies = count // lots + (1 if lot < count % lots else 0)
            pieces.append(
                Piece(f"{side} lot {lot}", size(side, 1, "mm"), ("roll",), per_card=copies)
            )
    asked = project("mm", 1, [plain("roll", size(length, 1, "mm"), fewest)], pieces)
    plan = make_plan(asked, ONE_BY_ONE)
    assert sum(sheet.paper == "roll" for sheet in plan.sheets) == fewest
    assert plan.totals.proven
    assert not plan.shortages
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
