"""Constraint programming against branch and bound: two solvers, HiGHS and CP-SAT, one truth."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.limits import Effort
from workbench.planning.milp import INFINITY, Milp, MilpResult
from workbench.planning.progress import Cancelled, Watch

BY_CP = Effort(work=1.0)
COEFFICIENTS = st.lists(st.integers(-4, 9), min_size=4, max_size=4)
ROWS = st.lists(st.tuples(st.integers(-3, 12), COEFFICIENTS, st.integers(0, 30)), max_size=5)


def asked(costs: list[int], rows: list[tuple[int, list[int], int]]) -> Milp:
    program = Milp()
    for cost in costs:
        program.add_column(cost, high=INFINITY if cost > 0 else 6)
    for least, factors, more in rows:
        terms = {column: float(factor) for column, factor in enumerate(factors) if factor}
        program.add_row(least, terms, least + more)
    return program


def holds(program: Milp, found: MilpResult) -> bool:
    """Whether an answer is one, and costs what is said."""
    values = [found.whole(column) for column in range(len(program.costs))]
    sums = (sum(n * values[c] for c, n in terms.items()) for _, _, terms in program.rows)
    within = all(
        low <= total <= high for total, (low, high, _) in zip(sums, program.rows, strict=True)
    )
    costs = sum(cost * value for cost, value in zip(program.costs, values, strict=True))
    return within and costs == pytest.approx(found.value)


@settings(max_examples=examples(40), deadline=None)
@given(COEFFICIENTS, ROWS)
def test_both_solvers_find_the_same_least(
    costs: list[int], rows: list[tuple[int, list[int], int]]
) -> None:
    program = asked(costs, rows)
    by_branching, by_learning = program.solve(Watch()), program.solve(Watch(), BY_CP)
    assert by_learning.verdict == by_branching.verdict
    if by_branching.found:
        assert by_learning.value == pytest.approx(by_branching.value)
        assert by_learning.bound == pytest.approx(by_learning.value)
        assert holds(program, by_learning)


def test_columns_left_out_are_not_used() -> None:
    program = asked([1, 2, 3, 4], [(5, [1, 1, 1, 1], 9)])
    assert program.solve(Watch(), BY_CP).value == pytest.approx(5)
    found = program.solve(Watch(), BY_CP, without=(0,))
    assert found.value == pytest.approx(10)
    assert found.whole(0) == 0


def test_a_known_answer_is_the_least_that_comes_out() -> None:
    program = asked([7, 5, 6, 9], [(53, [3, 4, 5, 7], 40), (31, [5, 2, 1, 3], 40)])
    known = program.solve(Watch())
    found = program.solve(Watch(), Effort(work=0.0001), known)
    assert not found.found or (holds(program, found) and found.bound <= known.value + 1e-6)


def test_a_search_can_be_stopped() -> None:
    with pytest.raises(Cancelled):
        asked([1, 1, 1, 1], [(5, [1, 1, 1, 1], 9)]).solve(Watch(stop=lambda: True), BY_CP)
