"""The graph of every cutting of small rectangles, and the arc-flow model over it."""

import pytest

from tests.planning.parts import WATCH, subproblem
from workbench.planning.instance.stock_classes import StackedPapers
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import leaves, marks_of
from workbench.planning.limits import DEFAULT, Reach
from workbench.planning.sheets.arc_flow import ArcFlowModel
from workbench.planning.sheets.cut_graph import cut_graph_of
from workbench.planning.sheets.cut_states import TooLargeError

SHAPES = frozenset({(3, 4)})


def test_a_sheet_of_the_wanted_shape_is_not_cut() -> None:
    graph = cut_graph_of((3, 4), SHAPES, DEFAULT.rows, UNLIMITED, turning=False)
    assert all(arc.mark == 0 for arcs in graph.arcs.values() for arc in arcs)


def test_nothing_useful_begins_no_graph() -> None:
    graph = cut_graph_of((2, 9), SHAPES, DEFAULT.rows, UNLIMITED, turning=False)
    assert not graph.starts


def test_a_graph_that_grows_too_large_is_refused() -> None:
    few = Reach(levels=3, leftovers=False, most=3)
    with pytest.raises(TooLargeError):
        cut_graph_of((30, 40), SHAPES, few, UNLIMITED, turning=False)


@pytest.mark.parametrize(
    ("sheet", "pieces", "cuts"),
    [
        ((6, 8), 4, 3),  # one cut across, then each half once
        ((9, 4), 3, 2),  # the last piece is what two cuts leave
        ((7, 4), 2, 2),  # a strip is left over
    ],
)
def test_the_model_cuts_all_that_is_asked_in_the_fewest_cuts(
    sheet: tuple[int, int], pieces: int, cuts: int
) -> None:
    group = subproblem(sheet, {(3, 4): pieces})
    model = ArcFlowModel(group, [StackedPapers(group.supplies)], DEFAULT.rows)
    model.ask_all()
    model.limit_sheets(1)
    model.program.set_objective(dict(model.cuts))
    (layout,) = model.layouts(model.program.solve(WATCH))
    assert sum(leaf.item == 0 for leaf in leaves(layout.root)) == pieces
    assert len(list(marks_of(layout.root))) == cuts
