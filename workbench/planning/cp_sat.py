"""Integer programs searched by constraint programming: CP-SAT of OR-tools.

Where a program is small and its relaxation says little, as that of the time at the table does,
learning from conflicts finds and proves in a fraction of the time what branching on the relaxation
does. One worker, a fixed seed and a limit in deterministic work make every machine give one answer.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from threading import Event, Thread
from typing import Any, Literal, NamedTuple, Protocol

from workbench.planning.limits import Effort
from workbench.planning.progress import Cancelled, Watch

_SEED = 0
_NEARLY = 1e-6
_MOST = 10_000_000
"""What a column without a ceiling may be: ten cuts for each of the most pieces of a batch."""
_FREE = 2**62
_GLANCE = 0.05
"""Seconds between two looks at the watch."""


class Program(Protocol):
    """Minimise the costs of columns within rows, as a `milp.Milp` does; all in whole numbers."""

    @property
    def costs(self) -> Sequence[float]:
        """By column."""

    @property
    def lows(self) -> Sequence[float]:
        """By column."""

    @property
    def highs(self) -> Sequence[float]:
        """By column."""

    @property
    def rows(self) -> Sequence[tuple[float, float, Mapping[int, float]]]:
        """The least and the most of a sum, and its terms."""


class Found(NamedTuple):
    """How a search ended: as a `milp.MilpResult` says it."""

    verdict: Literal["optimal", "infeasible", "stopped"]
    value: float
    bound: float
    values: Sequence[float] = ()


def searched(
    program: Program, watch: Watch, effort: Effort, known: Sequence[float] | None
) -> Found:
    """The best answer found by so much work, perhaps beginning with one that is known.

    Raises:
        Cancelled: the watch stopped it.
    """
    # All of OR-tools that is needed: its usual door loads tables and plots first.
    from ortools.sat.python import cp_model_helper as cp

    model, columns = _model(program, known)
    wish = cp.SatParameters()
    wish.num_workers = 1
    wish.random_seed = _SEED
    wish.max_deterministic_time = effort.work or 0.0
    wish.relative_gap_limit = effort.gap
    solver: Any = cp.SolveWrapper()
    solver.set_parameters(wish)
    with _heeding(watch, solver):
        found = solver.solve(model)
    if watch.stop():
        raise Cancelled
    if found.status == cp.INFEASIBLE:
        return Found("infeasible", math.inf, math.inf)
    if found.status not in (cp.OPTIMAL, cp.FEASIBLE):
        return Found("stopped", math.inf, found.best_objective_bound)
    values = [0.0] * len(program.costs)
    for column, value in zip(columns, found.solution, strict=True):
        values[column] = float(value)
    return Found(
        "optimal" if found.status == cp.OPTIMAL else "stopped",
        found.objective_value,
        found.best_objective_bound,
        values,
    )


@contextmanager
def _heeding(watch: Watch, solver: Any) -> Iterator[None]:
    """While the solver searches, stop it soon after the watch says so."""
    done = Event()

    def heed() -> None:
        while not done.wait(_GLANCE):
            if watch.stop():
                solver.stop_search()

    glancing = Thread(target=heed, daemon=True)
    glancing.start()
    try:
        yield
    finally:
        done.set()
        glancing.join()


def _model(program: Program, known: Sequence[float] | None) -> tuple[Any, list[int]]:
    """The program as the solver takes it, and which of its columns are not held at nothing."""
    from ortools.sat.python import cp_model_helper as cp

    columns = [column for column, high in enumerate(program.highs) if high > 0]
    place = {column: number for number, column in enumerate(columns)}
    model = cp.CpModelProto()
    for column in columns:
        high = min(program.highs[column], _MOST)
        model.variables.add().domain.extend([int(program.lows[column]), int(high)])
    for low, high, terms in program.rows:
        row = model.constraints.add().linear
        kept = [(place[column], round(times)) for column, times in terms.items() if column in place]
        row.vars.extend([column for column, _ in kept])
        row.coeffs.extend([times for _, times in kept])
        row.domain.extend([_whole(math.ceil, low - _NEARLY), _whole(math.floor, high + _NEARLY)])
    paid = [column for column in columns if program.costs[column]]
    model.objective.vars.extend([place[column] for column in paid])
    model.objective.coeffs.extend([round(program.costs[column]) for column in paid])
    if known is not None:
        model.solution_hint.vars.extend(range(len(columns)))
        model.solution_hint.values.extend([round(known[column]) for column in columns])
    return model, columns


def _whole(rounded: Callable[[float], int], limit: float) -> int:
    """A limit of a row in whole numbers."""
    return int(math.copysign(_FREE, limit)) if math.isinf(limit) else rounded(limit)
