"""How many pieces of one size a sheet yields: figures worked out exactly, outside the program.

Source: computed once for this project by trying every edge-to-edge cutting on a grid of eighths
of an inch (or whole millimetres), with no loss at the blade. Letter is ANSI/ASME Y14.1 size A;
A4, A6 and A7 are ISO 216.
"""

from fractions import Fraction

import pytest

from tests.effort import FOR_SHEETS
from tests.planning.checker import plan_faults
from tests.planning.parts import best_sheet
from tests.planning.projects import (
    ONE_BY_ONE,
    Number,
    eighths,
    half,
    patterned,
    project,
    quarters,
    size,
)
from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.measure.length import Unit
from workbench.planning.bound.guillotine_dp import ValuedRectangle
from workbench.planning.driver import make_plan
from workbench.planning.progress import Watch

Side = tuple[Number, Number]

SQUARE = (12, 12)
LETTER = (half(8), 11)
# Sheet, piece, pieces kept upright, pieces that may turn.
INCHES: list[tuple[Side, Side, int, int]] = [
    (SQUARE, (half(2), half(3)), 12, 14),
    (SQUARE, (3, 4), 12, 12),
    (SQUARE, (quarters(3, 3), 5), 6, 6),
    (SQUARE, (4, 4), 9, 9),
    (SQUARE, (4, quarters(5, 1)), 6, 6),
    (SQUARE, (quarters(4, 1), half(5)), 4, 4),
    (SQUARE, (half(4), quarters(6, 1)), 2, 3),
    # A pinwheel lays four of these on the sheet, but no edge-to-edge cut frees them.
    (SQUARE, (5, 7), 2, 3),
    (SQUARE, (half(5), half(8)), 2, 2),
    (LETTER, (quarters(4, 1), half(5)), 4, 4),
    (LETTER, (half(5), quarters(4, 1)), 2, 4),
    (LETTER, (5, 7), 1, 2),
    (LETTER, (7, 5), 2, 2),
    (LETTER, (quarters(3, 3), 5), 4, 4),
    (LETTER, (5, quarters(3, 3)), 2, 4),
]
FOOT = Fraction(3048, 10)
MILLIMETRES: list[tuple[Side, Side, int, int]] = [
    ((210, 297), (105, 148), 4, 4),
    ((FOOT, FOOT), (105, 148), 4, 4),
    ((FOOT, FOOT), (74, 105), 8, 10),
]
YIELDS: list[tuple[Unit, Side, Side, int, int]] = [
    *(("in", *row) for row in INCHES),
    *(("mm", *row) for row in MILLIMETRES),
]


@pytest.mark.parametrize(("unit", "sheet", "piece", "upright", "turning"), YIELDS)
def test_one_sheet_yields_this_many(
    unit: Unit, sheet: Side, piece: Side, upright: int, turning: int
) -> None:
    width, height, across, up = (int(side * 40) for side in (*sheet, *piece))
    for may_turn, expected in ((False, upright), (True, turning)):
        prize = ValuedRectangle(0, across, up, 1)
        assert best_sheet(width, height, [prize], turning=may_turn)[0] == expected


def one_size(unit: Unit, sheet: Side, piece: Side, cards: int, *, turning: bool) -> Project:
    paper = patterned("print", size(*sheet, unit), 2, "none" if turning else "up")
    return project(unit, cards, [paper], [Piece("piece", size(*piece, unit), ("print",))])


@pytest.mark.parametrize(("unit", "sheet", "piece", "upright", "turning"), YIELDS)
def test_a_plan_gets_them_all_from_one_sheet(
    unit: Unit, sheet: Side, piece: Side, upright: int, turning: int
) -> None:
    for may_turn, cards in ((False, upright), (True, turning)):
        for extra in (0, 1):
            asked = one_size(unit, sheet, piece, cards + extra, turning=may_turn)
            plan = make_plan(asked, ONE_BY_ONE, Watch(limits=FOR_SHEETS))
            printed = [sheet for sheet in plan.sheets if sheet.paper == "print"]
            assert len(printed) == 1 + extra
            assert plan.totals.proven
            assert plan_faults(asked, plan, ONE_BY_ONE) == []


def test_eighths_are_exact() -> None:
    """Eight strips of 1 1/2 fill 12; eight of 1 5/8 need 13. No rounding blurs the two."""
    for count, sheets in ((4, 1), (5, 2)):
        piece = (eighths(1, count), 12)
        plan = make_plan(one_size("in", SQUARE, piece, 8, turning=True), ONE_BY_ONE)
        assert sum(sheet.paper == "print" for sheet in plan.sheets) == sheets
