"""A larger offcut that costs no time, found by asking for ever larger ones.

Asked for the largest area at once, the integer program of the table (`table_model`) has a bound far
above all that is possible, and is not solved in a sitting. Asked for any offcut above a certain
area, its relaxation rules most of them out, and says which cuts may leave one.
"""

from bisect import bisect_right

from workbench.planning.milp import NEARLY, MilpResult, Relaxation
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape
from workbench.planning.sheets.paper_network import Terms
from workbench.planning.sheets.table_model import TableModel


def larger_offcut(
    model: TableModel, seconds: Terms, start: MilpResult, watch: Watch
) -> MilpResult | None:
    """An answer whose offcut is larger than in `start`; None where none was found.

    The model must hold the time to what it may take: `seconds` only guide the search. By bisection
    over the areas that an offcut could have; cut is at the marks that `start` sets, as any other
    would take its time.

    Raises:
        Cancelled: the watch stopped it.
    """
    areas = sorted({_area(shape) for shape in model.offcuts})
    low, high = bisect_right(areas, _kept(model, start)), len(areas)
    if low == high:
        return None
    model.program.set_objective(seconds)
    rows = len(model.program.rows)
    model.program.add_row(1, dict.fromkeys(model.offcuts.values(), 1.0), 1)
    best, tries = None, watch.limits.offcut_tries
    at_its_marks = model.program.held(dict.fromkeys(model.beyond_marks(start), 0.0))
    relaxation = Relaxation(at_its_marks, watch)
    possible = _relaxed(model, relaxation, areas[low]).found
    while possible and tries and low < high:
        middle = (low + high) // 2
        relaxed = _relaxed(model, relaxation, areas[middle])
        found = None
        if relaxed.found:
            found = _by_its_cuts(model, relaxed, areas[middle], start, watch)
            tries -= 1
        if found is None:
            high = middle
        else:
            best = found
            low = areas.index(_kept(model, found)) + 1
    del model.program.rows[rows:]
    return best


def _relaxed(model: TableModel, relaxation: Relaxation, least: int) -> MilpResult:
    """The relaxed program's answer with an offcut of at least that area."""
    for shape, column in model.offcuts.items():
        relaxation.hold(column, 0, _area(shape) >= least)
    return relaxation.answer()


def _by_its_cuts(
    model: TableModel, relaxed: MilpResult, least: int, start: MilpResult, watch: Watch
) -> MilpResult | None:
    """The same in whole numbers, by the cuts of the relaxed answer or of `start`."""
    too_small = [column for shape, column in model.offcuts.items() if _area(shape) < least]
    used, known = relaxed.values, start.values
    unused = [one for one in model.laid if used[one] <= NEARLY and known[one] <= NEARLY]
    effort = watch.limits.offcut_effort.over(len(model.laid) - len(unused))
    found = model.program.solve(watch, effort, without=too_small + unused)
    return found if found.found else None


def _kept(model: TableModel, answer: MilpResult) -> int:
    """The area of the offcut kept."""
    kept = (_area(shape) for shape, column in model.offcuts.items() if answer.whole(column))
    return max(kept, default=0)


def _area(shape: Shape) -> int:
    return shape[0] * shape[1]
