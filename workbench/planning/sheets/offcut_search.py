"""A larger offcut that costs no time, found by asking for ever larger ones.

Asked for the largest area at once, the integer program of the table (`table_model`) has a bound far
above all that is possible, and is not solved in a sitting. Asked for any offcut above a certain
area, its relaxation rules most of them out, and says which cuts may leave one.
"""

from workbench.planning.milp import NEARLY, MilpResult
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape
from workbench.planning.sheets.table_model import TableModel, Terms


def larger_offcut(
    model: TableModel, seconds: Terms, start: MilpResult, watch: Watch
) -> MilpResult | None:
    """An answer whose offcut is larger than in `start`; None where none was found.

    The model must hold the time to what it may take: `seconds` only guide the search. By bisection
    over the areas that an offcut could have.

    Raises:
        Cancelled: the watch stopped it.
    """
    areas = sorted({_area(shape) for shape in model.offcuts})
    low = sum(area <= _kept(model, start) for area in areas)
    high = len(areas)
    model.program.set_objective(seconds)
    best = None
    for _ in range(watch.limits.offcut_tries):
        if low >= high:
            break
        middle = (low + high) // 2
        found = _with_offcut(model, areas[middle], start, watch)
        if found is None:
            high = middle
        else:
            best = found
            low = areas.index(_kept(model, found)) + 1
    return best


def _with_offcut(
    model: TableModel, least: int, start: MilpResult, watch: Watch
) -> MilpResult | None:
    """An answer that keeps an offcut of at least that area, by cuts that the relaxation uses."""
    program, rows = model.program, len(model.program.rows)
    large = {column: 1.0 for shape, column in model.offcuts.items() if _area(shape) >= least}
    program.add_row(1, large, 1)
    relaxed = program.solve_relaxation(watch)
    found = None
    if relaxed.found:
        unused = [
            column
            for column in model.laid
            if relaxed.values[column] <= NEARLY and not start.whole(column)
        ]
        found = program.solve(watch, watch.limits.offcut_effort, without=unused)
    del program.rows[rows:]
    return found if found and found.found else None


def _kept(model: TableModel, answer: MilpResult) -> int:
    """The area of the offcut kept."""
    kept = (_area(shape) for shape, column in model.offcuts.items() if answer.whole(column))
    return max(kept, default=0)


def _area(shape: Shape) -> int:
    return shape[0] * shape[1]
