"""What waits for what while one layout is cut apart, worked out by hand."""

from workbench.planning.cuts.precedence import Precedence
from workbench.planning.layouts.tree import Chain, Leaf
from workbench.planning.shape import HEIGHT, WIDTH

TILE = Leaf(3, 4, 0)
ROW = Chain(6, 4, WIDTH, ((3, TILE),), Leaf(3, 4))
SHEET = Chain(6, 12, HEIGHT, ((4, ROW), (4, ROW)), Leaf(6, 4))


def test_a_cut_waits_for_the_one_that_frees_its_part() -> None:
    precedence = Precedence([SHEET], 6)
    assert precedence.offered(precedence.start) == [4]
    assert precedence.free(precedence.start) == 4
    assert precedence.least(precedence.start) == 2
    after = precedence.after(precedence.start, 4)
    assert precedence.offered(after) == [3]
    assert not precedence.after(after, 3)


def test_two_layouts_that_wait_for_each_other_need_a_mark_twice() -> None:
    """One needs 4 before 3, the other 3 before 4: a cycle, so one of them is set again."""
    column = Chain(3, 12, HEIGHT, ((4, TILE),), Leaf(3, 8))
    other = Chain(9, 12, WIDTH, ((3, column),), Leaf(6, 12))
    precedence = Precedence([SHEET, other], 6)
    assert precedence.least(precedence.start) == 3
    assert not precedence.fits(precedence.start, 2)
    assert precedence.fits(precedence.start, 3)
    assert precedence.left(precedence.start) == 4
