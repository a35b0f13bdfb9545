"""The solver's wrapper against every solution of small programs, tried one by one."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.limits import Effort
from workbench.planning.milp import INFINITY, Milp, Relaxation, rounded_up
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


@settings(max_examples=examples(20), deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 3), SMALL, SMALL), max_size=8))
def test_a_program_that_was_changed_is_solved_as_one_written_anew(
    steps: list[tuple[int, int, int, int]],
) -> None:
    program = Milp()
    for cost in (3, 2, 5, 1):
        program.add_column(cost=cost, high=9)
    for step, (kept, column, factor, least) in enumerate(steps):
        del program.rows[kept:]
        program.add_row(least, {column: 1.0})
        program.solve(Watch())
        if step % 2:
            program.add_term(0, (column + 1) % 4, float(factor))
        anew = Milp(program.costs, program.lows, program.highs, list(program.rows))
        assert program.solve(Watch()).summary == anew.solve(Watch()).summary


def test_columns_can_be_left_out_of_a_relaxation_and_come_back() -> None:
    program = Milp()
    cheap, dear = program.add_column(cost=1), program.add_column(cost=3)
    program.add_row(1, {cheap: 1.0, dear: 1.0})
    assert program.solve_relaxation(Watch(), without=[cheap]).value == pytest.approx(3)
    assert program.solve_relaxation(Watch()).value == pytest.approx(1)


@settings(max_examples=examples(20), deadline=None)
@given(
    st.lists(st.integers(1, 9), min_size=4, max_size=4),
    st.lists(st.tuples(st.integers(0, 3), st.booleans()), min_size=1, max_size=6),
)
def test_a_relaxation_held_and_let_go_is_as_good_as_a_new_one(
    costs: list[int], steps: list[tuple[int, bool]]
) -> None:
    """Each row needs either of its two columns; solved anew by the same solver."""
    program = Milp()
    columns = [program.add_column(cost=cost, high=1) for cost in costs]
    for one, other in ((0, 1), (1, 2), (2, 3)):
        program.add_row(1.5, {columns[one]: 1.0, columns[other]: 2.0})
    relaxation, left_out = Relaxation(program, Watch()), set[int]()
    for column, out in steps:
        place = relaxation.place()
        (left_out.add if out else left_out.discard)(column)
        relaxation.hold(column, 0, not out)
        anew = program.solve_relaxation(Watch(), without=left_out)
        assert relaxation.answer().value == pytest.approx(anew.value)
        assert relaxation.answer().found == anew.found
        relaxation.back(place)
        assert relaxation.least() == pytest.approx(anew.value)
        if anew.found:
            assert relaxation.least(at_most=anew.value + 1) == pytest.approx(anew.value)
            assert relaxation.least() == pytest.approx(anew.value)


def test_a_relaxation_is_given_up_where_it_is_too_dear() -> None:
    program = Milp()
    cheap, dear = program.add_column(cost=1, high=1), program.add_column(cost=8, high=1)
    program.add_row(1, {cheap: 1.0, dear: 1.0})
    relaxation = Relaxation(program, Watch())
    assert relaxation.least() == pytest.approx(1)
    relaxation.hold(cheap, 0, 0)
    assert relaxation.least(at_most=2) == INFINITY
    assert relaxation.least() == pytest.approx(8)


def test_wide_programs_are_looked_at_less_often() -> None:
    effort = Effort(checks=80, wide=100)
    assert [effort.over(columns).checks for columns in (50, 100, 200, 9_000)] == [80, 80, 40, 20]
    assert Effort(checks=80).over(9_000).checks == 80
    assert Effort(wide=100).over(9_000).checks is None


def test_a_watcher_can_stop_the_solver() -> None:
    program = Milp()
    program.add_row(1, {program.add_column(cost=1): 1.0})
    with pytest.raises(Cancelled):
        program.solve(Watch(stop=lambda: True), Effort(nodes=1))


@pytest.mark.parametrize(("value", "up"), [(2.0, 2), (2.0000000001, 2), (2.1, 3), (1.9999999, 2)])
def test_rounding_up_forgives_the_last_digits(value: float, up: int) -> None:
    assert rounded_up(value) == up
