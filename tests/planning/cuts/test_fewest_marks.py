"""The planner against every edge-to-edge cutting of tiny sheets, tried one by one."""

import random
from collections.abc import Iterator
from itertools import islice

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.planning.brute_force import Kind, best
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from workbench.craft.card import Piece
from workbench.planning.driver import make_plan

GRID = 20  # millimetres, so that even the narrowest strip can be held
MOST = 4

KINDS = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 6), st.integers(1, 4)),
    min_size=1,
    max_size=3,
    unique_by=lambda kind: kind[:2],
)


def planned(width: int, height: int, kinds: list[Kind], *, turning: bool) -> tuple[int, int, int]:
    """(sheets, marks, cuts) of a plan, checked."""
    sheet = size(width * GRID, height * GRID, "mm")
    paper = patterned("print", sheet, MOST, "none" if turning else "up")
    pieces = [
        Piece(f"{w} x {h}", size(w * GRID, h * GRID, "mm"), ("print",), per_card=count)
        for w, h, count in kinds
    ]
    asked = project("mm", 1, [paper], pieces)
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert not plan.shortages
    assert plan.totals.fewest_marks is not None
    assert plan.totals.fewest_marks <= plan.totals.marks
    printed = sum(sheet.paper == "print" for sheet in plan.sheets)
    (fewest,) = (group.fewest_possible for group in plan.groups if "print" in group.papers)
    assert fewest <= printed
    return printed, plan.totals.marks, plan.totals.cuts


@settings(max_examples=50, deadline=None)
@given(st.integers(2, 6), st.integers(2, 6), KINDS, st.booleans())
@example(6, 6, [(2, 3, 4), (3, 2, 2), (1, 4, 2)], True)
@example(6, 6, [(2, 3, 2), (4, 4, 2), (1, 4, 2)], False)
@example(2, 2, [(2, 1, 1), (2, 2, 2), (1, 2, 1)], False)
@example(3, 3, [(1, 3, 2), (3, 1, 1)], False)
def test_no_cutting_takes_fewer_sheets(
    width: int, height: int, kinds: list[Kind], turning: bool
) -> None:
    kinds = [
        (w, h, count)
        for w, h, count in kinds
        if (w <= width and h <= height) or (turning and h <= width and w <= height)
    ]
    fewest = best(width, height, kinds, turning=turning, most=MOST) if kinds else None
    if fewest is None:
        return
    found = planned(width, height, kinds, turning=turning)
    assert found[0] == fewest[0]
    assert found >= fewest


def cases(count: int) -> Iterator[tuple[int, int, list[Kind], bool]]:
    """Tiny cases, the same every time."""
    draw = random.Random(1868)
    while count:
        width, height = draw.randint(2, 6), draw.randint(2, 6)
        kinds = {
            (draw.randint(1, width), draw.randint(1, height)): draw.randint(1, 4)
            for _ in range(draw.randint(1, 3))
        }
        turning = draw.random() < 0.5
        wanted = [(w, h, copies) for (w, h), copies in kinds.items()]
        if best(width, height, wanted, turning=turning, most=MOST):
            count -= 1
            yield width, height, wanted, turning


@pytest.mark.parametrize("twentieth", range(20))
def test_marks_and_cuts_are_the_fewest(twentieth: int) -> None:
    """Of all cuttings as makers cut, each mark measuring something wanted."""
    for width, height, kinds, turning in islice(cases(160), twentieth, None, 20):
        fewest = best(width, height, kinds, turning=turning, most=MOST, as_made=True)
        assert planned(width, height, kinds, turning=turning) == fewest
