"""Kernel search against the solver itself, on small covering programs."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.kernel_search import kernel_search
from workbench.planning.limits import DEFAULT, Effort
from workbench.planning.milp import Milp
from workbench.planning.progress import Watch

EXACT = Effort()
BUCKETS = DEFAULT.kernel_buckets
ROWS = st.lists(st.integers(0, 4), min_size=6, max_size=6)


def covering(costs: list[int], rows: list[list[int]], most: int) -> Milp:
    """The cheapest columns that cover each row seven times, each taken `most` times at most."""
    program = Milp()
    columns = [program.add_column(cost=cost, high=most) for cost in costs]
    for row in rows:
        program.add_row(7, dict(zip(columns, map(float, row), strict=True)))
    return program


@settings(max_examples=examples(25), deadline=None)
@given(
    st.lists(st.integers(1, 9), min_size=6, max_size=6),
    st.lists(ROWS, min_size=1, max_size=4),
    st.integers(1, 4),
)
def test_the_answer_is_sound_and_its_bound_true(
    costs: list[int], rows: list[list[int]], most: int
) -> None:
    program = covering(costs, rows, most)
    best = program.solve(Watch())
    found = kernel_search(program, range(len(costs)), Watch(), EXACT, BUCKETS)
    assert (found.verdict == "infeasible") <= (not best.found)
    if not best.found:
        assert not found.found
        return
    assert found.bound <= best.value + 1e-6
    if found.found:
        taken = [found.whole(column) for column in range(len(costs))]
        assert all(sum(a * n for a, n in zip(row, taken, strict=True)) >= 7 for row in rows)
        assert sum(c * n for c, n in zip(costs, taken, strict=True)) == round(found.value)
        assert found.value >= best.value - 1e-6
    # Where no column may be left out, or the best is known, nothing is lost.
    for sure in (
        kernel_search(program, (), Watch(), EXACT, BUCKETS),
        kernel_search(program, range(len(costs)), Watch(), EXACT, BUCKETS, start=best),
    ):
        assert sure.value == pytest.approx(best.value)


def test_what_is_told_to_belong_is_in_the_kernel() -> None:
    """The relaxed program takes half of the cheap one; whole, the dear one is all that serves."""
    program = Milp()
    cheap, dear = program.add_column(cost=1, high=1), program.add_column(cost=9, high=1)
    others = [program.add_column(cost=2, high=1) for _ in range(3)]
    program.add_row(1, {cheap: 2.0, dear: 1.0, **dict.fromkeys(others, 0.25)}, 1)
    columns = (cheap, dear, *others)
    watch = Watch()
    assert not kernel_search(program, columns, watch, EXACT, BUCKETS).found
    found = kernel_search(program, columns, watch, EXACT, BUCKETS, also=[dear])
    assert (found.whole(dear), found.value) == (1, 9)


def test_buckets_are_not_tried_where_the_kernel_has_no_answer_if_something_else_is() -> None:
    """The relaxed program takes half a cheap one; a bucket holds the dear one that serves whole."""
    program = Milp()
    cheap = program.add_column(cost=1, high=1)
    dear = [program.add_column(cost=9, high=1) for _ in range(3)]
    program.add_row(1, {cheap: 2.0, **dict.fromkeys(dear, 1.0)}, 1)
    columns = (cheap, *dear)
    assert kernel_search(program, columns, Watch(), EXACT, BUCKETS).value == 9
    assert not kernel_search(program, columns, Watch(), EXACT, BUCKETS, else_none=True).found
