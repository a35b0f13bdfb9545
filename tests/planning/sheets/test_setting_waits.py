"""What an order of settings costs, against every sequence of them tried one by one."""

from itertools import pairwise, product

from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.direction import Direction
from workbench.craft.pace import ESTIMATED, Pace
from workbench.planning.layouts.tree import Chain, Leaf
from workbench.planning.sheets.cut_states import Setting
from workbench.planning.sheets.setting_waits import (
    SettingWait,
    decisive,
    order_cost,
    setting_waits,
)

WIDE, HIGH = Direction.WIDTH, Direction.HEIGHT
SETTINGS = st.sampled_from([(3, WIDE), (3, HIGH), (5, WIDE), (5, HIGH)])
WAITS = st.sets(st.tuples(SETTINGS, SETTINGS).filter(lambda two: two[0] != two[1]), min_size=1)
PACES = st.sampled_from([ESTIMATED, Pace(setting=3, turn=5), Pace(setting=7, turn=0)])


def seconds(order: tuple[Setting, ...], pace: Pace) -> int:
    moves = sum(one[0] != other[0] for one, other in pairwise(order))
    return pace.setting * (1 + moves) + pace.turn * sum(
        one[1] is not other[1] for one, other in pairwise(order)
    )


def kept(order: tuple[Setting, ...], waits: set[SettingWait]) -> bool:
    """Whether of every two the first comes somewhere before the second."""
    return all(one in order and other in order[order.index(one) :] for one, other in waits)


def least(waits: set[SettingWait], pace: Pace) -> int:
    """Over every sequence, the settings together twice as often as there are at most."""
    settings = sorted({setting for wait in waits for setting in wait})
    orders = (
        order
        for length in range(len(settings), 2 * len(settings))
        for order in product(settings, repeat=length)
        if set(order) == set(settings) and kept(order, waits)
    )
    return min(seconds(order, pace) for order in orders)


@given(WAITS, PACES)
def test_no_order_costs_less(waits: set[SettingWait], pace: Pace) -> None:
    marks = {mark for wait in waits for mark, _ in wait}
    assert order_cost(waits, pace) == least(waits, pace) - pace.setting * len(marks)


@given(WAITS, PACES)
def test_of_decisive_waits_none_can_be_left_out(waits: set[SettingWait], pace: Pace) -> None:
    cost, few = order_cost(waits, pace), decisive(waits, pace)
    assert waits.issuperset(few)
    assert order_cost(few, pace) >= cost
    for wait in few:
        assert order_cost([one for one in few if one != wait], pace) < cost


def test_sheets_are_turned_to_and_fro_where_cuts_wait_so() -> None:
    """Columns 60 wide, rows of 60 off those, pieces 40 wide off the rows: two turns."""
    row = Chain(60, 60, WIDE, ((40, Leaf(40, 60, 1)),), Leaf(20, 60, 2))
    column = Chain(60, 120, HIGH, ((60, row),), Leaf(60, 60, None))
    root = Chain(120, 120, WIDE, ((60, column),), Leaf(60, 120, None))
    waits = setting_waits([root])
    assert waits == {((60, WIDE), (60, HIGH)), ((60, HIGH), (40, WIDE))}
    assert order_cost(waits, ESTIMATED) == 2 * ESTIMATED.turn


def test_marks_that_wait_for_one_another_are_set_once_more() -> None:
    waits = {((3, WIDE), (5, WIDE)), ((5, WIDE), (3, WIDE))}
    assert order_cost(waits, ESTIMATED) == ESTIMATED.setting
