"""A cutting's figures, and layouts given out among like papers, each by hand."""

from dataclasses import replace

from tests.planning.parts import search_of, subproblem
from workbench.planning.instance.stock_classes import PaperClasses
from workbench.planning.layouts.tree import Layout
from workbench.planning.sheets.cutting import given_out, pieces_in, settled


def test_the_pieces_of_a_cutting_are_counted_and_settled() -> None:
    group = subproblem((6, 8), {(3, 4): 9})
    cutting = search_of(group).fewest()
    assert pieces_in(cutting.layouts) == 9
    assert cutting.sheets == 3
    assert settled(group, cutting.layouts) == group


def test_layouts_of_like_papers_are_given_out_evenly_as_far_as_each_is_stocked() -> None:
    """Five sheets of one pattern, of three papers of which one has a single sheet: 2, 2 and 1."""
    group = subproblem((6, 8), {(3, 4): 20})
    (one,) = group.supplies
    papers = ("ash", "birch", "cedar")
    supplies = tuple(replace(one, paper=name) for name in papers)
    (source,) = one.sources
    supplies = (*supplies[:2], replace(supplies[2], sources=(replace(source, available=1),)))
    items = tuple(replace(item, papers=papers) for item in group.items)
    likes = PaperClasses(replace(group, items=items, supplies=supplies), dict.fromkeys(papers, 1))
    (layout,) = search_of(group).fewest().layouts
    merged = Layout(likes.merged.supplies[0].paper, source, layout.root, 5)
    found = {each.paper: each.times for each in given_out(likes, [merged])}
    assert found == {"ash": 2, "birch": 2, "cedar": 1}
