"""Which marks a relaxation calls needed, and the fewest marks of groups that share the guide."""

from tests.planning.parts import WATCH, search_of, subproblem
from workbench.planning.cuts.fewest_marks import MarkRelaxation, fewest_marks


def test_a_size_that_never_divides_the_sheet_is_needed() -> None:
    """Pieces 50 x 70 on 130 x 160: neither side comes out by cuts at the other alone."""
    relaxation = MarkRelaxation(search_of(subproblem((130, 160), {(50, 70): 2})), 1)
    assert relaxation.marks == {50, 70}
    assert relaxation.rules_out({50})
    assert relaxation.rules_out({70})
    assert not relaxation.rules_out({50, 70})


def test_a_side_left_by_other_cuts_needs_no_mark() -> None:
    """A sheet 100 x 150 in two pieces 100 x 75 is cut at 75 and nowhere else."""
    search = search_of(subproblem((100, 150), {(100, 75): 2}))
    few = fewest_marks([search], [search.fewest()], WATCH)
    assert few.fewest == 1
    assert [cutting.marks for cutting in few.cuttings] == [{75}]
