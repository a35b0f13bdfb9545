"""The solver's wrapper against every solution of small programs, tried one by one."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.limits import Effort
from workbench.planning.milp import Milp, rounded_up
from workbench.planning.progress import Cancelled, Watch

SMALL = st.integers(0, 9)


@settings(max_examples=examples(20), deadline=None)
@given(st.lists(st.tuples(SMALL, st.integers(1, 9)), min_size=1, max_size=4), st.integers(0, 30))
def test_a_knapsack_is_filled_as_well_as_can_be(things: list[tuple[int, int]], room: int) -> None:
    program = Milp()
    columns = [program.add_column(cost=-value, high=2) for value, _ in things]
    weights = {column: float(weight) for column, (_, weight) in zip(columns, things, strict=True)}
    program.add_row(0, weights, room)
    best = max(
        sum(n * value for n, (value, _) in zip(counts, things, strict=True))
        for counts in product(range(3), repeat=len(things))
        if sum(n * weight for n, (_, weight) in zip(counts, things, strict=True)) <= room
    )
    result = program.solve(Watch())
    assert result.verdict == "optimal"
    assert round(-result.value) == best
    taken = [result.whole(column) for column in columns]
    assert sum(n * value for n, (value, _) in zip(taken, things, strict=True)) == best
    assert -program.solve_relaxation(Watch()).value >= best - 1e-6


def test_what_cannot_be_is_infeasible() -> None:
    program = Milp()
    column = program.add_column(high=1)
    program.add_row(2, {column: 1.0})
    assert program.solve(Watch()).verdict == "infeasible"
    assert not program.solve(Watch()).found


def test_columns_can_be_left_out_of_a_relaxation_and_come_back() -> None:
    program = Milp()
    cheap, dear = program.add_column(cost=1), program.add_column(cost=3)
    program.add_row(1, {cheap: 1.0, dear: 1.0})
    assert program.solve_relaxation(Watch(), without=[cheap]).value == pytest.approx(3)
    assert program.solve_relaxation(Watch()).value == pytest.approx(1)


def test_a_watcher_can_stop_the_solver() -> None:
    program = Milp()
    program.add_row(1, {program.add_column(cost=1): 1.0})
    with pytest.raises(Cancelled):
        program.solve(Watch(stop=lambda: True), Effort(nodes=1))


@pytest.mark.parametrize(("value", "up"), [(2.0, 2), (2.0000000001, 2), (2.1, 3), (1.9999999, 2)])
def test_rounding_up_forgives_the_last_digits(value: float, up: int) -> None:
    assert rounded_up(value) == up
