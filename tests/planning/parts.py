"""Small subproblems in whole numbers, for tests of planning's modules by themselves."""

import math
from collections.abc import Iterable, Mapping, Sequence

from workbench.planning.bound.guillotine_dp import ValuedRectangle
from workbench.planning.bound.pricing import SheetPricer
from workbench.planning.instance.instance import Item, Source, Subproblem, Supply
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import Node
from workbench.planning.progress import UNWATCHED, Watch
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


def best_sheet(
    width: int, height: int, prizes: Sequence[ValuedRectangle], *, turning: bool
) -> tuple[float, Node]:
    """The best value of one sheet, as many copies as fit, and a layout that has it."""
    wanted = _both_ways(prizes) if turning else tuple(prizes)
    pricer = SheetPricer(width, height, [(prize.width, prize.height) for prize in wanted])
    found = pricer.above(wanted, -math.inf, UNWATCHED)
    assert found is not None
    return found


def _both_ways(prizes: Iterable[ValuedRectangle]) -> tuple[ValuedRectangle, ...]:
    """Each upright and, where that differs, turned."""
    found = []
    for prize in prizes:
        found.append(prize)
        if prize.width != prize.height:
            found.append(
                ValuedRectangle(prize.item, prize.height, prize.width, prize.value, turned=True)
            )
    return tuple(found)
