"""The program of the time at the table on small sheets: its flows, both ways, and its offcuts."""

from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.parts import WATCH, subproblem
from workbench.craft.pace import ESTIMATED
from workbench.planning.instance.instance import Subproblem
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import Layout, leaves, marks_of
from workbench.planning.limits import DEFAULT
from workbench.planning.milp import NEARLY
from workbench.planning.shape import Shape
from workbench.planning.sheets.offcut_search import larger_offcut
from workbench.planning.sheets.paper_network import GraphedGroup
from workbench.planning.sheets.table_model import Stacks, TableModel
from workbench.planning.sheets.true_graph import cut_graph
from workbench.planning.sheets.unrolling import wanted_shapes

STACKS = {"sheet": Stacks("cardstock", 1)}
SHEETS = st.tuples(st.integers(4, 6), st.integers(4, 6))
SIDES = st.tuples(st.integers(1, 4), st.integers(1, 4))
DEMANDS = st.dictionaries(SIDES, st.integers(1, 4), min_size=1, max_size=3)


def graphed(group: Subproblem, known: tuple[Layout, ...] = ()) -> GraphedGroup:
    """The group with every true cutting of its sheets."""
    (supply,) = group.supplies
    (source,) = supply.sources
    graph = cut_graph(
        (source.width, source.height),
        wanted_shapes(group, supply),
        DEFAULT.deep_rows,
        UNLIMITED,
        turning=False,
    )
    return GraphedGroup(group, {("sheet", 0): graph}, source.available, known)


def quickest(model: TableModel) -> tuple[Layout, ...]:
    """The layouts of least time."""
    model.program.set_objective(model.seconds(ESTIMATED))
    (layouts,) = model.layouts(model.program.solve(WATCH))
    return layouts


def offcut_area(layouts: tuple[Layout, ...]) -> int:
    """That of the largest leftover."""
    return max(
        (
            leaf.width * leaf.height
            for layout in layouts
            for leaf in leaves(layout.root)
            if leaf.item is None
        ),
        default=0,
    )


@settings(max_examples=examples(15), deadline=None)
@given(SHEETS, DEMANDS, st.booleans())
def test_layouts_flow_back_as_they_came(
    sheet: Shape, demand: dict[Shape, int], turning: bool
) -> None:
    """What a model's answer cuts, another model of the same graphs finds again: to the second."""
    group = subproblem(sheet, demand, 4, turning=turning)
    model = TableModel([graphed(group)], STACKS)
    seconds = model.seconds(ESTIMATED)
    model.program.set_objective(seconds)
    answer = model.program.solve(WATCH)
    assume(answer.found)
    (layouts,) = model.layouts(answer)
    again = TableModel([graphed(group, layouts)], STACKS)
    flow = again.known_flow()
    assert flow is not None
    completed = again.completed(flow, again.seconds(ESTIMATED), WATCH)
    assert completed.value == pytest.approx(answer.value)
    (known,) = again.layouts(completed)
    assert _pieces(known) == _pieces(layouts)


def _pieces(layouts: tuple[Layout, ...]) -> Counter[int]:
    found: Counter[int] = Counter()
    for layout in layouts:
        for leaf in leaves(layout.root):
            if leaf.item is not None:
                found[leaf.item] += layout.times
    return found


def test_a_cutting_that_the_graphs_do_not_have_is_no_flow() -> None:
    """A piece of 4 x 2 is on no sheet that is cut into pieces of 3 x 3 alone."""
    (other,) = quickest(TableModel([graphed(subproblem((6, 6), {(4, 2): 3}))], STACKS))
    model = TableModel([graphed(subproblem((6, 6), {(3, 3): 3}), (other,))], STACKS)
    assert model.known_flow() is None


@settings(max_examples=examples(15), deadline=None)
@given(SHEETS, DEMANDS)
def test_a_larger_offcut_is_larger_and_costs_no_time(
    sheet: Shape, demand: dict[Shape, int]
) -> None:
    """Never beyond the largest of all, as the solver finds it to proof."""
    group = subproblem(sheet, demand, 4)
    model = TableModel([graphed(group)], STACKS)
    model.add_offcuts(lambda _: True)
    seconds, program = model.seconds(ESTIMATED), model.program
    program.set_objective(seconds)
    answer = program.solve(WATCH)
    assume(answer.found and model.offcuts)
    program.add_row(0, seconds, answer.value + NEARLY)
    start = model.completed(model.flow(answer), model.offcut_area(), WATCH)
    program.set_objective(model.offcut_area())
    largest = -round(program.solve(WATCH).value)
    rows = len(program.rows)
    found = larger_offcut(model, seconds, start, WATCH)
    assert len(program.rows) == rows
    if found is None:
        return
    (layouts,) = model.layouts(found)
    assert -round(start.value) < offcut_area(layouts)
    kept = sum(w * h for (w, h), column in model.offcuts.items() if found.whole(column))
    assert -round(start.value) < kept <= largest
    taken = sum(times * found.values[column] for column, times in seconds.items())
    assert taken <= answer.value + 1e-4


@pytest.mark.parametrize(("sheets", "area"), [(1, 24), (2, 32)])
def test_a_larger_offcut_is_found_where_there_is_one(sheets: int, area: int) -> None:
    """Three pieces of 1 x 4 leave 6 x 4 of one sheet of 9 x 4; two on another, 8 x 4 of the one."""
    of_one = quickest(TableModel([graphed(subproblem((9, 4), {(1, 4): 3}, 1))], STACKS))
    group = subproblem((9, 4), {(1, 4): 3}, sheets)
    model = TableModel([graphed(group, of_one)], STACKS)
    model.add_offcuts(lambda _: True)
    seconds, flow = model.seconds(ESTIMATED), model.known_flow()
    assert flow is not None
    known = model.completed(flow, seconds, WATCH)
    model.program.add_row(0, seconds, known.value)
    start = model.completed(flow, model.offcut_area(), WATCH)
    assert start.value == -24
    found = larger_offcut(model, seconds, start, WATCH)
    assert (found is None) == (sheets == 1)
    assert offcut_area(model.layouts(found or start)[0]) == area


def test_no_offcut_is_looked_for_where_none_is_kept() -> None:
    model = TableModel([graphed(subproblem((9, 4), {(1, 4): 3}))], STACKS)
    model.add_offcuts(lambda _: False)
    assert model.offcuts == {}


@settings(max_examples=examples(10), deadline=None)
@given(SHEETS, DEMANDS)
def test_without_what_lies_beyond_its_marks_an_answer_stands(
    sheet: Shape, demand: dict[Shape, int]
) -> None:
    model = TableModel([graphed(subproblem(sheet, demand, 4))], STACKS)
    model.program.set_objective(model.seconds(ESTIMATED))
    known = model.program.solve(WATCH)
    assume(known.found)
    beyond = model.beyond_marks(known)
    assert not any(known.whole(column) for column in beyond)
    again = model.program.solve(WATCH, without=beyond)
    assert again.value == pytest.approx(known.value)
    unset = {mark for mark, column in model.marks.items() if not known.whole(column)}
    (layouts,) = model.layouts(again)
    assert unset.isdisjoint(mark for layout in layouts for mark in marks_of(layout.root))
