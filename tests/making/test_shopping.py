"""What is bought for several projects, against sheets counted by hand."""

from dataclasses import replace
from itertools import permutations

import pytest

from tests.making.plans import FOG, HARBOUR, NET, size
from workbench.craft.card import Piece
from workbench.craft.envelope import UNENVELOPED
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.shopping import envelopes_wanted, shopping_list
from workbench.planning import Watch
from workbench.post import Desk


def asking(title: str, width: str, height: str) -> Project:
    """Two cards, each with one piece of the net weave, of which there is none."""
    papers = tuple(replace(paper, sheets=1 if paper.name == FOG else 0) for paper in HARBOUR.papers)
    pieces = (Piece("band", size(width, height), (NET,)),)
    return replace(HARBOUR, title=title, papers=papers, pieces=pieces)


# Two pieces of 3 by 4 leave 6 by 2 of a sheet of 6 by 6: two bands of 3 by 2, which may not lie
# sideways, are cut from that.
LARGE, SMALL = asking("large", "3", "4"), asking("small", "3", "2")


@pytest.mark.parametrize("projects", [(LARGE, SMALL), (SMALL, LARGE)])
def test_what_one_project_leaves_is_not_bought_for_the_other(
    projects: tuple[Project, ...],
) -> None:
    wanted = shopping_list(projects, Trimmer(), Watch())
    # One sheet of fog card makes two bases of 4 by 10; the second project needs another.
    assert {one.paper.name: one.sheets for one in wanted} == {FOG: 1, NET: 1}


def flat(title: str, width: int, height: int, count: int) -> Project:
    """Cards of one layer, of kraft card in sheets of 12 by 12, of which there is none."""
    kraft = replace(HARBOUR.papers[0], name="kraft", size=size("12", "12"), sheets=0, stock=None)
    card = replace(
        HARBOUR.card, size=size(str(width), str(height)), fold="none", paper="kraft", count=count
    )
    return replace(HARBOUR, title=title, card=card, papers=(kraft,), pieces=())


# By hand: across a sheet of 12 x 12 a row 3 high gives three of 4 x 3, and beside the 7 x 9 below
# it stand three more. Only some orders leave that: two sheets were bought where neither the order
# given nor the last first was one of them.
TRIO = (flat("large", 7, 9, 1), flat("four", 4, 3, 4), flat("two", 4, 3, 2))


@pytest.mark.parametrize("order", [*permutations(range(3))])
def test_of_three_the_order_given_does_not_matter(order: tuple[int, ...]) -> None:
    (wanted,) = shopping_list([TRIO[at] for at in order], Trimmer(), Watch())
    assert wanted.sheets == 1
    assert set(wanted.projects) <= {"large", "four", "two"}


def test_projects_that_share_no_paper_are_bought_for_one_by_one() -> None:
    large = TRIO[0]
    other = replace(
        large,
        title="other",
        card=replace(large.card, paper="flax"),
        papers=(replace(large.papers[0], name="flax"),),
    )
    wanted = shopping_list([TRIO[0], other, TRIO[1]], Trimmer(), Watch())
    assert {one.paper.name: one.sheets for one in wanted} == {"kraft": 1, "flax": 1}


def test_envelopes_are_counted_by_the_card_and_not_where_there_is_none() -> None:
    bare = replace(SMALL, posting=replace(SMALL.posting, envelope=UNENVELOPED))
    (only,) = envelopes_wanted([LARGE, LARGE, bare], Desk())
    assert (only.count, only.projects) == (4, ("large", "large"))
    card, envelope = HARBOUR.card.size, only.envelope
    assert envelope.short > card.width
    assert envelope.long > card.height
