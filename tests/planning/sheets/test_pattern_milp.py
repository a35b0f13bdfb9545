"""Known patterns shared among papers: the fewest sheets of those patterns, nothing in excess."""

from collections import Counter

from tests.planning.parts import WATCH, subproblem
from workbench.planning.layouts.tree import Chain, Leaf
from workbench.planning.limits import TO_PROOF
from workbench.planning.shape import WIDTH
from workbench.planning.sheets.pattern_milp import keeping, pieces_of, share_patterns

TILE = Leaf(3, 4, 0)
THREE = Chain(9, 4, WIDTH, ((3, TILE), (3, TILE)), TILE)
ONE = Chain(9, 4, WIDTH, ((3, TILE),), Leaf(6, 4))


def test_the_fewest_sheets_and_no_piece_too_many() -> None:
    found = share_patterns(subproblem((9, 4), {(3, 4): 7}), [ONE, THREE], 9, WATCH, TO_PROOF)
    assert sum(sheet.times for sheet in found.sheets) == 3
    assert sum(sheet.pieces[0] * sheet.times for sheet in found.sheets) == 7
    assert all(pieces_of(sheet.root) == sheet.pieces for sheet in found.sheets)


def test_patterns_of_another_size_or_too_few_sheets_give_nothing() -> None:
    assert not share_patterns(subproblem((9, 5), {(3, 4): 1}), [ONE], 9, WATCH, TO_PROOF).within(9)
    assert not share_patterns(
        subproblem((9, 4), {(3, 4): 7}, sheets=2), [THREE], 9, WATCH, TO_PROOF
    ).within(9)


def test_what_is_not_kept_is_not_cut_off() -> None:
    assert keeping(THREE, Counter({0: 1})) == ONE
    assert keeping(THREE, Counter()) == Leaf(9, 4)
