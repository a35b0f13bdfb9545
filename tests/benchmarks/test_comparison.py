"""The benchmarks themselves: a small run of the comparison, and what counts as a packing."""

from tests.benchmarks.comparison import measured, table_beside, table_of_batches
from tests.benchmarks.yardstick import best_packing, cuts_apart

# Two of the random batches, small ones.
SEEDS = (4, 24)


def test_two_batches_need_no_more_sheets_than_rectpack() -> None:
    found = [measured(seed) for seed in SEEDS]
    for one in found:
        assert one.beside.fewest <= one.beside.sheets <= one.beside.packed
    assert "2 (100.0 %)" in table_of_batches(found).text()
    assert table_beside(found).markdown().count("\n| 2 in all |") == 1


def test_a_pinwheel_cannot_be_cut_apart() -> None:
    pinwheel = [(0, 0, 7, 5), (7, 0, 12, 7), (5, 7, 12, 12), (0, 5, 5, 12)]
    assert not cuts_apart(pinwheel)
    assert all(cuts_apart(pinwheel[:n] + pinwheel[n + 1 :]) for n in range(4))


def test_packings_that_no_trimmer_cuts_do_not_count() -> None:
    # Four 5 x 7 fit on 12 x 12 as a pinwheel only; by cuts from edge to edge 3 do (computed).
    assert best_packing((12, 12), {(5, 7): 4}, turning=True, enough=0).sheets == 2
    assert best_packing((12, 12), {(5, 7): 3}, turning=True, enough=0).sheets == 1
