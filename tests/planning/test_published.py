"""Published cutting problems with known answers."""

from math import ceil

import pytest

from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, plain, project, size
from workbench.craft.card import MOST_A_CARD, Piece
from workbench.planning.planner import make_plan
from workbench.planning.raster import best_sheet

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

# cgcut1: a 15 x 10 sheet; (width, height, value).
# Data: N. Christofides and C. Whitlock, Oper. Res. 25 (1977) 30-44, problem 1.
CGCUT1 = [
    (8, 4, 66),
    (3, 7, 35),
    (8, 2, 24),
    (3, 4, 17),
    (3, 3, 11),
    (3, 2, 8),
    (2, 1, 2),
]


# Best values: G. Cintra's results page for these problems (the same work as G. Cintra et al.,
# Eur. J. Oper. Res. 191 (2008) 61-85), recomputed for this project.
@pytest.mark.parametrize(("turning", "value"), [(False, 56460), (True, 58136)])
def test_the_best_sheet_of_gcut1(turning: bool, value: int) -> None:
    found, _ = best_sheet(250, 250, [(w, h, w * h) for w, h in GCUT1], turning)
    assert found == value


def test_the_best_sheet_of_cgcut1_without_limits_on_copies() -> None:
    # Published with the problem: 244 with its limits on copies, 249 without.
    found, _ = best_sheet(15, 10, CGCUT1, False)
    assert found == 249


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
