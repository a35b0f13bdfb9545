"""Equal rectangles share a number, and one cut gives the two halves."""

from workbench.planning.layouts.node_table import NodeTable
from workbench.planning.layouts.tree import Chain, Leaf
from workbench.planning.shape import HEIGHT, WIDTH

TILE = Leaf(3, 4, 0)
ROW = Chain(6, 4, WIDTH, ((3, TILE),), TILE)
SHEET = Chain(6, 12, HEIGHT, ((4, ROW), (4, ROW)), Leaf(6, 4))


def test_equal_nodes_have_one_number() -> None:
    table = NodeTable()
    assert table.number(ROW) == table.number(Chain(6, 4, WIDTH, ((3, TILE),), TILE))
    assert table.number(TILE) != table.number(ROW)
    assert table.chain(table.number(TILE)) is None


def test_a_cut_halves_a_rectangle_and_leaves_the_rest_of_its_chain() -> None:
    table = NodeTable()
    whole = table.number(SHEET)
    first, rest = table.halves(whole, 4)
    assert table.nodes[first] == ROW
    assert table.nodes[rest] == Chain(6, 8, HEIGHT, ((4, ROW),), Leaf(6, 4))
    assert table.after(whole, 4) == {table.number(ROW)}
    assert table.opened(whole, 4) == {rest}
