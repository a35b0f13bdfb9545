"""Marks chosen first, then the cuts: against the whole program, solved to proof."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.parts import WATCH, subproblem
from tests.planning.sheets.test_table_model import DEMANDS, SHEETS, STACKS, graphed
from workbench.craft.pace import ESTIMATED
from workbench.planning.layouts.tree import marks_of
from workbench.planning.limits import DEFAULT, Effort
from workbench.planning.milp import MilpResult
from workbench.planning.shape import Shape
from workbench.planning.sheets.mark_search import mark_search
from workbench.planning.sheets.table_model import TableModel

LITTLE = Effort(nodes=1, checks=5)


def searched(model: TableModel, effort: Effort, start: MilpResult | None = None) -> MilpResult:
    """The search on its own, by the seconds at the table."""
    model.program.set_objective(model.seconds(ESTIMATED))
    return mark_search(model, WATCH, effort, start, DEFAULT.kernel_buckets)


@settings(max_examples=examples(15), deadline=None)
@given(SHEETS, DEMANDS, st.sampled_from([LITTLE, DEFAULT.kernel_effort]))
def test_the_answer_is_sound_and_its_bound_true(
    sheet: Shape, demand: dict[Shape, int], effort: Effort
) -> None:
    model = TableModel([graphed(subproblem(sheet, demand, 4))], STACKS)
    seconds = model.seconds(ESTIMATED)
    found = searched(model, effort)
    best = model.program.solve(WATCH)
    if not best.found:
        assert not found.found
        return
    assert found.bound <= best.value + 1e-4
    if found.found:
        taken = sum(times * found.values[column] for column, times in seconds.items())
        assert taken == pytest.approx(found.value)
        assert found.value >= best.value - 1e-4
        (layouts,) = model.layouts(found)
        again = model.completed(model.flow(found), seconds, WATCH)
        assert again.found
        marks = {mark for layout in layouts for mark in marks_of(layout.root)}
        assert marks == {mark for mark, column in model.marks.items() if again.whole(column)}


@settings(max_examples=examples(10), deadline=None)
@given(SHEETS, DEMANDS)
def test_what_is_known_is_never_lost(sheet: Shape, demand: dict[Shape, int]) -> None:
    model = TableModel([graphed(subproblem(sheet, demand, 4))], STACKS)
    model.program.set_objective(model.seconds(ESTIMATED))
    known = model.program.solve(WATCH)
    assume(known.found)
    assert searched(model, LITTLE, known).value <= known.value + 1e-4


def test_marks_that_only_save_strokes_are_dropped() -> None:
    """Six pieces of 2 x 2 from strips of 6 x 2: relaxed, a little of each of many marks is set."""
    model = TableModel([graphed(subproblem((6, 6), {(2, 2): 6, (4, 2): 1}, 2))], STACKS)
    found = searched(model, DEFAULT.kernel_effort)
    assert found.value == pytest.approx(model.program.solve(WATCH).value)
    assert found.bound < found.value
