"""The bound that tells papers apart, against every way to share small pieces among papers.

All pieces are squares of one size, so that what a sheet holds is counted, and whether numbers of
pieces can be dealt is Koenig's condition, said here a second time.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from workbench.craft.card import COPIES, Copies, Piece
from workbench.craft.mixing import Mixing
from workbench.craft.project import Project
from workbench.planning.driver import Planner, make_plan
from workbench.planning.mixing.conflicts import check_mixing
from workbench.planning.progress import PlanningError, Watch

HOLDS = {"ash": 6, "birch": 2, "cedar": 4}
SHEETS = {"ash": size(30, 20, "mm"), "birch": size(20, 10, "mm"), "cedar": size(20, 20, "mm")}
Layers = Sequence[tuple[Sequence[str], int]]
SOME_LAYERS = st.lists(
    st.tuples(
        st.lists(st.sampled_from(sorted(HOLDS)), min_size=2, max_size=3, unique=True),
        st.sampled_from((1, 1, 2)),
    ),
    min_size=1,
    max_size=3,
)


def asked_for(cards: int, layers: Layers, copies: Copies, mixing: Mixing) -> Project:
    papers = [patterned(name, SHEETS[name], 50) for name in HOLDS]
    pieces = [
        Piece(
            f"layer {chr(ord('a') + number)}",
            size(10, 10, "mm"),
            tuple(names),
            per_card=times,
            copies=copies,
        )
        for number, (names, times) in enumerate(layers)
    ]
    return replace(project("mm", cards, papers, pieces), mixing=mixing)


def shares(total: int, parts: int) -> Iterator[tuple[int, ...]]:
    if parts == 1:
        yield (total,)
        return
    for first in range(total + 1):
        yield from ((first, *rest) for rest in shares(total - first, parts - 1))


def fewest_by_hand(asked: Project) -> int | None:
    """The fewest sheets over every number of each piece from each paper; None if none can be."""
    cards = asked.card.count
    best: int | None = None
    ways = []
    for piece in asked.pieces:
        times = piece.per_card if piece.copies == "each another" else 1
        ways.append(list(shares(cards * times, len(piece.papers))))
    for chosen in product(*ways):
        groups, cut = dict.fromkeys(HOLDS, 0), dict.fromkeys(HOLDS, 0)
        for piece, counts in zip(asked.pieces, chosen, strict=True):
            each = 1 if piece.copies == "each another" else piece.per_card
            for paper, count in zip(piece.papers, counts, strict=True):
                if count > cards:
                    break
                groups[paper] += count
                cut[paper] += count * each
            else:
                continue
            break
        else:
            ticked = {paper for piece in asked.pieces for paper in piece.papers}
            if asked.mixing.use == "all" and not all(cut[paper] for paper in ticked):
                continue
            if not asked.mixing.repeat and max(groups.values()) > cards:
                continue
            sheets = sum(-(-cut[paper] // HOLDS[paper]) for paper in HOLDS)
            best = sheets if best is None else min(best, sheets)
    return best


MIXINGS = st.builds(
    Mixing, repeat=st.booleans(), use=st.sampled_from(("as it comes", "as it comes", "all"))
)


@settings(max_examples=examples(50), deadline=None)
@given(st.integers(1, 5), SOME_LAYERS, st.sampled_from(COPIES), MIXINGS)
def test_the_bound_is_the_fewest_of_every_way(
    cards: int, layers: Layers, copies: Copies, mixing: Mixing
) -> None:
    asked = asked_for(cards, layers, copies, mixing)
    fewest = fewest_by_hand(asked)
    try:
        check_mixing(asked)
    except PlanningError:
        assert fewest is None
        return
    searches = Planner(asked, ONE_BY_ONE, Watch()).searches()
    assert fewest is not None
    # The bases come ready cut, one a sheet.
    assert sum(search.least.sheets or 0 for search in searches) == fewest + cards


@settings(max_examples=examples(8), deadline=None)
@given(st.integers(2, 5), SOME_LAYERS, st.sampled_from(COPIES), MIXINGS)
def test_the_fewest_of_every_way_is_planned_and_proven(
    cards: int, layers: Layers, copies: Copies, mixing: Mixing
) -> None:
    asked = asked_for(cards, layers, copies, mixing)
    fewest = fewest_by_hand(asked)
    if fewest is not None:
        totals = make_plan(asked, ONE_BY_ONE).totals
        assert (totals.sheets, totals.proven) == (fewest + cards, True)


def test_why_more_sheets_than_their_area_is_said() -> None:
    """Three little squares fill one sheet, but come from three papers."""
    layers = [(sorted(HOLDS), 1)] * 3
    plan = make_plan(asked_for(1, layers, "alike", Mixing()), ONE_BY_ONE)
    mixed = next(group for group in plan.groups if len(group.papers) > 1)
    assert (mixed.sheets, mixed.proven, mixed.because) == (3, True, "each card shows 3 prints")
    assert [group.because for group in plan.groups if group is not mixed] == [None]
