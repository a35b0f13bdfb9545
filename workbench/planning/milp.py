"""Mixed-integer linear programs, built row by row and solved by HiGHS.

    minimise    sum of c_j x_j
    subject to  low_i <= sum of a_ij x_j <= high_i   for each row i
                low_j <= x_j <= high_j, x_j whole    for each column j

Every model of planning is a `Milp`; small ones are also searched by `cp_sat`. One thread, a fixed
seed and limits in nodes make every machine give one answer.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain
from typing import Any, Literal

from workbench.planning.limits import TO_PROOF, Effort
from workbench.planning.progress import Cancelled, Watch

Verdict = Literal["optimal", "infeasible", "stopped"]

INFINITY = float("inf")
_SEED = 0
NEARLY = 1e-6


@dataclass(frozen=True, slots=True)
class MilpResult:
    """`values` by column, empty when no solution was found; `bound` holds for every solution.

    `prices` are the rows' dual values, `reduced` the columns' reduced costs; only a relaxed program
    has them.
    """

    verdict: Verdict
    value: float
    bound: float
    values: Sequence[float] = ()
    prices: Sequence[float] = ()
    reduced: Sequence[float] = ()

    @property
    def found(self) -> bool:
        """Whether there is a solution, optimal or not."""
        return bool(self.values)

    def near(self, bound: float, gap: float) -> bool:
        """Whether no answer is better by more than that share of it, if none is below `bound`."""
        return self.found and self.value - bound <= gap * abs(self.value) + NEARLY

    @property
    def summary(self) -> tuple[Verdict, float, float]:
        """How it ended, the objective's value, and the bound."""
        return self.verdict, self.value, self.bound

    def whole(self, column: int) -> int:
        """The value of a column, rounded to a whole number. Only where one was `found`."""
        return round(self.values[column])


Row = tuple[float, float, Mapping[int, float]]
"""The least and the most of a sum, and its terms: coefficients by column."""


class _PackedRows:
    """Rows as the solver takes them, packed once: rows are only added and taken back at the end."""

    def __init__(self) -> None:
        import numpy as np

        self._rows: list[Row] = []
        self._ends = np.zeros(1, dtype=np.int32)
        self._columns = np.zeros(0, dtype=np.int32)
        self._coefficients = np.zeros(0, dtype=np.float64)

    def pack(self, rows: Sequence[Row], model: Any) -> None:
        """Give these rows to a model of the solver."""
        import numpy as np

        kept = min(len(rows), len(self._rows))
        while kept and rows[kept - 1] is not self._rows[kept - 1]:
            kept -= 1
        terms = [row for _, _, row in rows[kept:]]
        end = self._ends[kept]
        ends = np.cumsum(np.fromiter(map(len, terms), np.int32, len(terms)), dtype=np.int32)
        columns = np.fromiter(chain.from_iterable(terms), np.int32)
        coefficients = np.fromiter(chain.from_iterable(row.values() for row in terms), np.float64)
        self._ends = np.concatenate((self._ends[: kept + 1], ends + end))
        self._columns = np.concatenate((self._columns[:end], columns))
        self._coefficients = np.concatenate((self._coefficients[:end], coefficients))
        self._rows = list(rows)
        model.num_row_ = len(rows)
        model.row_lower_ = np.array([low for low, _, _ in rows], dtype=np.float64)
        model.row_upper_ = np.array([high for _, high, _ in rows], dtype=np.float64)
        model.a_matrix_.start_ = self._ends
        model.a_matrix_.index_ = self._columns
        model.a_matrix_.value_ = self._coefficients

    def forget(self, row: int) -> None:
        """Pack that row and those after it again."""
        del self._rows[row:]


@dataclass
class Milp:
    """Minimise the costs of columns within rows. Columns are whole numbers from `low` to `high`."""

    costs: list[float] = field(default_factory=list)
    lows: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    packed: _PackedRows = field(default_factory=_PackedRows, repr=False, compare=False)

    def add_column(self, cost: float = 0, low: float = 0, high: float = INFINITY) -> int:
        """Add a column with its cost and bounds; gives its number."""
        self.costs.append(cost)
        self.lows.append(low)
        self.highs.append(high)
        return len(self.costs) - 1

    def add_row(self, low: float, terms: Mapping[int, float], high: float = INFINITY) -> int:
        """Hold the sum of `terms` (coefficients by column) between `low` and `high`.

        Gives the row's number. The terms stay as they are now.
        """
        self.rows.append((low, high, terms))
        return len(self.rows) - 1

    def add_term(self, row: int, column: int, coefficient: float) -> None:
        """Add a term to a row."""
        low, high, terms = self.rows[row]
        self.rows[row] = low, high, {**terms, column: coefficient}
        self.packed.forget(row)

    def set_objective(self, costs: Mapping[int, float]) -> None:
        """Make these the costs, and every other column free."""
        self.costs = [costs.get(column, 0) for column in range(len(self.costs))]

    def solve_relaxation(self, watch: Watch, without: Collection[int] = ()) -> MilpResult:
        """Solve without the demand for whole numbers, some columns left out. Raises Cancelled."""
        return Relaxation(self._without(without), watch).answer()

    def solve(
        self,
        watch: Watch,
        effort: Effort = TO_PROOF,
        start: MilpResult | None = None,
        without: Collection[int] = (),
    ) -> MilpResult:
        """Solve to proof, or as far as `effort` goes, perhaps beginning with a solution known.

        Columns `without` are left out: that must be possible, and what is said then holds only of
        such answers.

        Raises:
            Cancelled: the watch stopped it.
        """
        program = self._without(without)
        if effort.work is not None:
            from workbench.planning.cp_sat import searched

            known = start.values if start is not None else None
            return MilpResult(*searched(program, watch, effort, known))
        return _answer(program, watch, effort.over(len(self.costs) - len(without)), start)

    def held(self, values: Mapping[int, float]) -> "Milp":
        """The same program with columns held at these values."""
        lows, highs = list(self.lows), list(self.highs)
        for column, value in values.items():
            lows[column] = highs[column] = value
        return replace(self, lows=lows, highs=highs)

    def _without(self, columns: Collection[int]) -> "Milp":
        if not columns:
            return self
        highs = list(self.highs)
        for column in columns:
            highs[column] = 0.0
        return replace(self, highs=highs)


class Relaxation:
    """A program without the demand for whole numbers, solved again and again as columns are held.

    Each time the solver goes on from where it ended, or from a place it was at before. Raises
    Cancelled where the watch stops it.
    """

    def __init__(self, program: Milp, watch: Watch) -> None:
        self._watch = watch
        self._solver = _solver(watch, TO_PROOF)
        self._solver.passModel(_model(program, whole=False))

    def hold(self, column: int, low: float, high: float) -> None:
        """Keep a column between two values from now on."""
        self._solver.changeColBounds(column, low, high)

    def least(self, at_most: float = INFINITY) -> float:
        """The least value; INFINITY where there is none, or none that low."""
        import highspy

        self._solver.setOptionValue("objective_bound", at_most)
        self._solver.run()
        if self._watch.stop():
            raise Cancelled
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return INFINITY
        value = float(self._solver.getInfo().objective_function_value)
        return value if value <= at_most else INFINITY

    def answer(self) -> MilpResult:
        """The least value with its solution, prices and reduced costs."""
        value = self.least()
        if value == INFINITY:
            if _infeasible(self._solver):
                return MilpResult("infeasible", INFINITY, INFINITY)
            return MilpResult("stopped", INFINITY, -INFINITY)
        solution = self._solver.getSolution()
        return MilpResult(
            "optimal", value, value, solution.col_value, solution.row_dual, solution.col_dual
        )

    def place(self) -> object:
        """Where the solver ended, to come `back` to."""
        return self._solver.getBasis()

    def back(self, place: object) -> None:
        """Go on from there."""
        self._solver.setBasis(place)


def _answer(
    program: Milp, watch: Watch, effort: Effort, start: MilpResult | None = None
) -> MilpResult:
    import highspy
    import numpy as np

    solver = _solver(watch, effort)
    solver.passModel(_model(program, whole=True))
    if start is not None:
        known = np.array(start.values, dtype=np.float64)
        solver.setSolution(len(known), np.arange(len(known), dtype=np.int32), known)
    solver.run()
    if watch.stop():
        raise Cancelled
    if _infeasible(solver):
        return MilpResult("infeasible", INFINITY, INFINITY)
    info = solver.getInfo()
    optimal = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    feasible = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return MilpResult(
        "optimal" if optimal else "stopped",
        info.objective_function_value if feasible else INFINITY,
        info.mip_dual_bound,
        tuple(solver.getSolution().col_value) if feasible else (),
    )


def _infeasible(solver: Any) -> bool:
    """Whether the solver found that there is no answer."""
    import highspy

    none = highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible
    return solver.getModelStatus() in none


def _solver(watch: Watch, effort: Effort) -> Any:
    import highspy

    solver: Any = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("random_seed", _SEED)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", effort.gap)
    solver.setOptionValue("mip_abs_gap", NEARLY)
    # Looked for beside the search, these find nothing here in most of the time that they take.
    for option in (
        "mip_allow_restart",
        "mip_detect_symmetry",
        "mip_heuristic_run_feasibility_jump",
        "mip_heuristic_run_rins",
    ):
        solver.setOptionValue(option, False)
    if effort.nodes is not None:
        solver.setOptionValue("mip_max_nodes", effort.nodes)
    checks = 0

    def stop_or_tire(event: Any) -> None:
        nonlocal checks
        checks += 1
        if watch.stop() or (effort.checks is not None and checks > effort.checks):
            event.interrupt()

    solver.cbMipInterrupt += stop_or_tire
    return solver


def _model(program: Milp, *, whole: bool) -> Any:
    import highspy
    import numpy as np

    model = highspy.HighsLp()
    model.num_col_ = len(program.costs)
    model.col_cost_ = np.array(program.costs, dtype=np.float64)
    model.col_lower_ = np.array(program.lows, dtype=np.float64)
    model.col_upper_ = np.array(program.highs, dtype=np.float64)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.packed.pack(program.rows, model)
    if whole:
        model.integrality_ = [highspy.HighsVarType.kInteger] * len(program.costs)
    return model


def rounded_up(value: float) -> int:
    """The least whole number not below `value`, forgiving the solver's last digits."""
    import math

    return math.ceil(value - NEARLY)
