"""Good answers of the table's integer program soon: which marks are set, then how is cut at them.

What a setting costs, whatever is cut at it, is what the relaxed program understands least. So the
marks are chosen first: beginning with all that the relaxed program or a known answer sets, one
after the other is dropped, as long as the relaxed program becomes cheaper by it. With these marks
alone the relaxed program is near the whole one, and a kernel search is a short one.

Source: the drop heuristic for fixed charges (Feldman, Lehrer and Ray, Management Science 12 (1966)
670-684; from memory).
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.planning.kernel_search import kernel_search
from workbench.planning.limits import Effort
from workbench.planning.milp import NEARLY, MilpResult, Relaxation
from workbench.planning.progress import Watch
from workbench.planning.sheets.table_model import TableModel


def mark_search(
    model: TableModel,
    watch: Watch,
    effort: Effort,
    start: MilpResult | None,
    buckets: Sequence[int],
) -> MilpResult:
    """The best answer found in the model's objective, each small program tried with `effort`.

    Where few marks do not serve, all are tried harder. `buckets` are those of a kernel search.
    Its `bound` holds for every answer. Infeasible is said only where there is none at all; where
    merely none was found, it is "stopped" without one.

    Raises:
        Cancelled: the watch stopped it.
    """
    hard = watch.limits.hard_effort
    relaxation = Relaxation(model.program, watch)
    free = relaxation.answer()
    if not free.found:
        return free
    if start and start.near(free.value, effort.gap):
        return replace(start, verdict="optimal", bound=free.value)
    dropped = _dropped(model, relaxation, free, start)
    barred = {c for mark in dropped for c in model.cut_at(mark)}
    without = [model.marks[mark] for mark in dropped]
    allowed = start if start and not any(start.whole(column) for column in without) else None
    columns = [column for column in model.laid if column not in barred]
    relaxed, program = relaxation.answer(), model.program
    found = kernel_search(
        program,
        columns,
        watch,
        effort,
        buckets,
        start=allowed,
        without=without,
        relaxed=relaxed,
        else_none=True,
    )
    if not found.found:  # few sheets are hard to fill with few marks
        found = kernel_search(program, model.laid, watch, hard, buckets, start=start, relaxed=free)
    best = start if start and start.value <= found.value else found
    return replace(best, verdict="stopped", bound=free.value)


def _dropped(
    model: TableModel, relaxation: Relaxation, free: MilpResult, start: MilpResult | None
) -> list[int]:
    """The marks to do without; the relaxation is left without them, and with all others set."""
    columns, lows = model.marks, model.program.lows
    chosen = {
        mark
        for mark, column in columns.items()
        if free.values[column] > NEARLY or lows[column] or (start and start.whole(column))
    }
    for mark, column in columns.items():
        relaxation.hold(column, mark in chosen, mark in chosen)
    least, place = relaxation.least(), relaxation.place()
    used = _strokes(model, relaxation.answer())
    for mark in sorted(chosen, key=lambda mark: (used[mark], mark)):
        column = columns[mark]
        if lows[column]:
            continue
        relaxation.hold(column, 0, 0)
        value = relaxation.least(at_most=least)
        if value < least - NEARLY:
            chosen.remove(mark)
            least, place = value, relaxation.place()
        else:
            relaxation.hold(column, 1, 1)
            relaxation.back(place)
    return [mark for mark in columns if mark not in chosen]


def _strokes(model: TableModel, answer: MilpResult) -> Mapping[int, float]:
    """The strokes at each mark in an answer."""
    found: dict[int, float] = defaultdict(float)
    for pile, column in model.strokes.items():
        found[pile.mark] += answer.values[column]
    return found
