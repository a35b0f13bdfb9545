"""The planner against every edge-to-edge cutting of tiny sheets, tried one by one.

Sheets against `brute_force.best`, the time at the table against `table_brute_force.least_time`,
which looks for the shortest way through every state that a table can be in.
"""

import random
from functools import cache

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from tests.effort import FOR_SHEETS, examples
from tests.planning.brute_force import Kind, best
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from tests.planning.table_brute_force import least_time
from workbench.craft.card import Piece
from workbench.planning import Plan, Watch, make_plan, table_work
from workbench.planning.limits import DEFAULT, Limits

GRID = 20  # millimetres, so that even the narrowest strip can be held
MOST = 4

KINDS = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 6), st.integers(1, 4)),
    min_size=1,
    max_size=3,
    unique_by=lambda kind: kind[:2],
)


def planned(
    width: int, height: int, kinds: list[Kind], *, turning: bool, limits: Limits = DEFAULT
) -> tuple[int, Plan]:
    """The printed sheets that a plan opens, and the plan, checked."""
    sheet = size(width * GRID, height * GRID, "mm")
    paper = patterned("print", sheet, MOST, "none" if turning else "up")
    pieces = [
        Piece(f"{w} x {h}", size(w * GRID, h * GRID, "mm"), ("print",), per_card=count)
        for w, h, count in kinds
    ]
    asked = project("mm", 1, [paper], pieces)
    plan = make_plan(asked, ONE_BY_ONE, Watch(limits=limits))
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert not plan.shortages
    printed = sum(sheet.paper == "print" for sheet in plan.sheets)
    (fewest,) = (group.fewest_possible for group in plan.groups if "print" in group.papers)
    assert fewest <= printed
    return printed, plan


@settings(max_examples=examples(20), deadline=None)
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
    assume(fewest is not None)
    assert fewest
    printed, _ = planned(width, height, kinds, turning=turning, limits=FOR_SHEETS)
    assert printed == fewest[0]


@cache
def cases(count: int) -> list[tuple[int, int, list[Kind], bool]]:
    """Tiny cases of up to six pieces, the same every time."""
    draw = random.Random(1868)
    found: list[tuple[int, int, list[Kind], bool]] = []
    while len(found) < count:
        width, height = draw.randint(2, 6), draw.randint(2, 6)
        kinds = {
            (draw.randint(1, width), draw.randint(1, height)): draw.randint(1, 3)
            for _ in range(draw.randint(1, 3))
        }
        turning = draw.random() < 0.5
        wanted = [(w, h, copies) for (w, h), copies in kinds.items()]
        few = sum(copies for _, _, copies in wanted) <= 6
        if few and best(width, height, wanted, turning=turning, most=2):
            found.append((width, height, wanted, turning))
    return found


@pytest.mark.parametrize(
    ("width", "height", "kinds", "turning"),
    [
        (3, 5, [(1, 5, 1), (2, 1, 2), (3, 1, 2)], False),  # the sheets' way at first
        (5, 4, [(3, 2, 1), (1, 3, 3)], False),  # turns to and fro
        (5, 6, [(3, 1, 3), (1, 1, 1)], True),  # and a mark used both ways
        (4, 4, [(1, 3, 1), (1, 2, 1), (4, 2, 2)], True),  # a square sheet lying as another does
    ],
)
def test_cases_that_once_took_a_turn_too_many(
    width: int, height: int, kinds: list[Kind], turning: bool
) -> None:
    printed, plan = planned(width, height, kinds, turning=turning)
    seconds = table_work(plan.cuts).seconds(plan.pace)
    assert seconds == least_time(width, height, kinds, printed, seconds, turning=turning)


@pytest.mark.parametrize("tenth", range(10))
def test_no_order_of_true_cuts_takes_less_time(tenth: int) -> None:
    """The least time in every case, and what is said to be ruled out always is."""
    cases_tried = 0
    for width, height, kinds, turning in cases(60)[tenth::10]:
        printed, plan = planned(width, height, kinds, turning=turning)
        seconds = table_work(plan.cuts).seconds(plan.pace)
        least = least_time(width, height, kinds, printed, seconds, turning=turning)
        if least is None:
            continue
        cases_tried += 1
        ruled_out = plan.totals.least_table_seconds
        assert ruled_out is None or ruled_out <= least
        assert seconds == least
    assert cases_tried >= 4
