"""The planner against every edge-to-edge cutting of tiny sheets, tried one by one."""

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.planning.brute_force import Kind, best
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from workbench.craft.card import Piece
from workbench.planning.plan import Plan
from workbench.planning.planner import make_plan

GRID = 20  # millimetres, so that even the narrowest strip can be held
MOST = 4

KINDS = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 6), st.integers(1, 4)),
    min_size=1,
    max_size=3,
    unique_by=lambda kind: kind[:2],
)


def planned(width: int, height: int, kinds: list[Kind], *, turning: bool) -> Plan:
    sheet = size(width * GRID, height * GRID, "mm")
    paper = patterned("print", sheet, MOST, "none" if turning else "up")
    pieces = [
        Piece(f"{w} x {h}", size(w * GRID, h * GRID, "mm"), ("print",), per_card=count)
        for w, h, count in kinds
    ]
    asked = project("mm", 1, [paper], pieces)
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    return plan


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 6), st.integers(2, 6), KINDS, st.booleans())
@example(6, 6, [(2, 3, 4), (3, 2, 2), (1, 4, 2)], True)
@example(6, 6, [(2, 3, 2), (4, 4, 2), (1, 4, 2)], False)
def test_no_cutting_is_better(width: int, height: int, kinds: list[Kind], turning: bool) -> None:
    kinds = [
        (w, h, count)
        for w, h, count in kinds
        if (w <= width and h <= height) or (turning and h <= width and w <= height)
    ]
    fewest = best(width, height, kinds, turning=turning, most=MOST) if kinds else None
    if fewest is None:
        return
    sheets, marks, cuts = fewest
    plan = planned(width, height, kinds, turning=turning)
    printed = sum(sheet.paper == "print" for sheet in plan.sheets)
    assert (printed, plan.totals.marks, plan.totals.cuts) == (sheets, marks, cuts)
    assert plan.totals.proven
