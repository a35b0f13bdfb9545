"""The search of one subproblem on small sheets: as few as by hand, else said to be short."""

from dataclasses import replace

import pytest

from tests.planning.parts import search_of, subproblem
from tests.planning.projects import ONE_BY_ONE, plain, project, size
from workbench.craft.card import Piece
from workbench.planning.driver import make_plan
from workbench.planning.layouts.tree import leaves
from workbench.planning.limits import DEFAULT, Effort, Limits
from workbench.planning.progress import Watch
from workbench.planning.sheets.search import ShortError


@pytest.mark.parametrize(
    ("sheet", "demand", "fewest"),
    [
        ((6, 8), {(3, 4): 9}, 3),  # four a sheet
        ((10, 10), {(6, 6): 3}, 3),  # one a sheet, however much is left over
        ((12, 10), {(4, 10): 2, (4, 5): 4}, 2),  # 160 units of area on sheets of 120
    ],
)
def test_the_fewest_sheets_are_found_and_proven(
    sheet: tuple[int, int], demand: dict[tuple[int, int], int], fewest: int
) -> None:
    group = subproblem(sheet, demand)
    cutting = search_of(group).fewest()
    assert (cutting.sheets, cutting.fewest) == (fewest, fewest)
    cut = [leaf.item for ly in cutting.layouts for leaf in leaves(ly.root) for _ in range(ly.times)]
    assert sorted(item for item in cut if item is not None) == [
        number for number, count in enumerate(demand.values()) for _ in range(count)
    ]


def test_too_few_sheets_are_said_to_be_short() -> None:
    with pytest.raises(ShortError):
        search_of(subproblem((6, 8), {(3, 4): 9}, sheets=2)).fewest()


def test_pieces_that_fit_are_found_where_branch_and_bound_has_no_answer() -> None:
    pieces = (
        Piece("label", size(60, 40, "mm"), ("board",)),
        Piece("bonus", size(35, 30, "mm"), ("board",), needed=False),
    )
    asked = project("mm", 4, [plain("board", size(100, 100, "mm"), 9)], pieces)
    none = Effort(nodes=0, checks=0)

    def bonuses(limits: Limits) -> int:
        plan = make_plan(asked, ONE_BY_ONE, Watch(limits=limits))
        return sum(part.piece == "bonus" for sheet in plan.sheets for part in sheet.parts)

    assert bonuses(replace(DEFAULT, effort=none)) == 4
    assert bonuses(replace(DEFAULT, effort=none, last_effort=none)) == 0
