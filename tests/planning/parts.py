"""Small subproblems in whole numbers, for tests of planning's modules by themselves."""

from collections.abc import Mapping

from workbench.planning.instance.instance import Item, Source, Subproblem, Supply
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape
from workbench.planning.sheets.search import SheetSearch

WATCH = Watch()


def subproblem(
    sheet: Shape, demand: Mapping[Shape, int], sheets: int = 9, *, turning: bool = False
) -> Subproblem:
    """Items numbered in the order of `demand`, all from one paper called "sheet"."""
    items = tuple(
        Item(number, f"{w} x {h}", w, h, count, count, ("sheet",), needed=True, dealt=False)
        for number, ((w, h), count) in enumerate(demand.items())
    )
    source = Source(*sheet, available=sheets, offcut=False, cost=1)
    return Subproblem(items, (Supply("sheet", turning, (source,)),), 1, UNLIMITED)


def search_of(group: Subproblem) -> SheetSearch:
    """A search that cuts one sheet at a time."""
    return SheetSearch(group, {supply.paper: 1 for supply in group.supplies}, WATCH)
