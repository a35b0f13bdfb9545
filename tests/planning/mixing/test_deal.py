"""Which mixtures of prints can be dealt to cards, against a general graph library.

Koenig's line-colouring theorem (D. Koenig, Math. Ann. 77 (1916) 453-465): the edges of a bipartite
multigraph need exactly as many colours as its largest degree. With a card as a colour, a layer
and a paper as the ends of an edge, N cards without a print twice exist exactly when each layer
has N pieces and no print more than N. Whether such numbers exist is a flow, which networkx
(a general library) answers here.
"""

from collections.abc import Sequence
from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.benchmarks.growth import design
from tests.effort import SOON, examples
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, plain, project, size
from workbench.craft.card import COPIES, Copies, Piece
from workbench.craft.mixing import Mixing
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.driver import make_plan
from workbench.planning.mixing.conflicts import check_mixing
from workbench.planning.progress import PlanningError, Watch

PRINTS = ("ash", "birch", "cedar", "elm")
PLAIN = ("chalk", "slate")
LAYER = size(10, 10, "mm")
SHEET = size(30, 20, "mm")


def mixture(
    cards: int,
    layers: Sequence[tuple[Sequence[str], int, bool]],
    copies: Copies = "each another",
    *,
    repeat: bool = False,
) -> Project:
    """A project with these layers: from which papers, how many a card, needed or not."""
    papers = [patterned(name, SHEET, 50) for name in PRINTS]
    papers += [plain(name, SHEET, 50) for name in PLAIN]
    pieces = [
        Piece(f"layer {number}", LAYER, tuple(names), per_card=times, needed=needed, copies=copies)
        for number, (names, times, needed) in enumerate(layers, 1)
    ]
    return replace(project("mm", cards, papers, pieces), mixing=Mixing(repeat=repeat))


def koenig_allows(asked: Project) -> bool:
    """Whether the counts exist: a flow from layers to papers, no print with more than N pieces.

    Copies that are alike are one layer; of those that are each another, no paper gives more than
    N, print or not.
    """
    cards, graph = asked.card.count, nx.DiGraph()
    graph.add_nodes_from(["layers", "papers"])
    needed = [layer for layer in asked.layers() if layer.piece.needed]
    on_every_card = {layer.piece.papers[0] for layer in needed if not asked.mixed(layer.piece)}
    for paper in asked.papers:
        room = 0 if paper.name in on_every_card else cards
        if paper.shows_print and not asked.mixing.repeat:
            graph.add_edge(("paper", paper.name), "papers", capacity=room)
        else:
            graph.add_edge(("paper", paper.name), "papers")  # no capacity: as many as you like
    mixed = [layer for layer in needed if asked.mixed(layer.piece)]
    asked_for = 0
    for piece in {layer.piece.name: layer.piece for layer in mixed}.values():
        times = piece.per_card if piece.copies == "each another" else 1
        asked_for += times * cards
        graph.add_edge("layers", ("piece", piece.name), capacity=times * cards)
        for name in piece.papers:
            graph.add_edge(("piece", piece.name), ("paper", name), capacity=cards)
    flow: int = nx.maximum_flow_value(graph, "layers", "papers")
    return flow == asked_for


Layers = list[tuple[list[str], int, bool]]

SOME_PAPERS = st.lists(st.sampled_from(PRINTS + PLAIN), min_size=1, max_size=4, unique=True)
SOME_LAYERS = st.lists(
    st.tuples(SOME_PAPERS, st.sampled_from((1, 1, 1, 2)), st.sampled_from((True, True, False))),
    min_size=1,
    max_size=5,
)


@settings(max_examples=examples(60), deadline=None)
@given(st.integers(1, 12), SOME_LAYERS, st.sampled_from(COPIES), st.booleans())
def test_feasible_exactly_when_koenig_says_so(
    cards: int, layers: Layers, copies: Copies, repeat: bool
) -> None:
    asked = mixture(cards, layers, copies, repeat=repeat)
    try:
        check_mixing(asked)
    except PlanningError:
        assert not koenig_allows(asked)
    else:
        assert koenig_allows(asked)


@settings(max_examples=examples(20), deadline=None)
@given(st.integers(1, 5), SOME_LAYERS, st.sampled_from(COPIES), st.booleans())
def test_what_koenig_allows_is_dealt(
    cards: int, layers: Layers, copies: Copies, repeat: bool
) -> None:
    asked = mixture(cards, layers, copies, repeat=repeat)
    if koenig_allows(asked):
        assert plan_faults(asked, make_plan(asked, ONE_BY_ONE), ONE_BY_ONE) == []
    else:
        with pytest.raises(PlanningError):
            make_plan(asked, ONE_BY_ONE)


def test_three_layers_cannot_be_mixed_from_two_prints() -> None:
    layers = [(PRINTS[:2], 1, True)] * 3
    with pytest.raises(PlanningError, match=r"ash|birch|layer"):
        check_mixing(mixture(6, layers))


def test_what_cannot_be_mixed_is_named() -> None:
    with pytest.raises(PlanningError, match=r'"layer 1" takes 3 .* from "ash", "birch"; .* 1 more'):
        check_mixing(mixture(6, [(PRINTS[:2], 3, True)]))


def test_a_print_on_every_card_is_no_use_to_a_mixed_layer() -> None:
    check_mixing(mixture(6, [(["ash"], 1, True), (["ash", "birch"], 1, True)]))
    with pytest.raises(PlanningError):
        check_mixing(
            mixture(6, [(["ash"], 1, True), (["birch"], 1, True), (["ash", "birch"], 1, True)])
        )


def test_two_layers_of_one_fixed_print_may_coincide() -> None:
    check_mixing(mixture(6, [(["ash"], 1, True), (["ash"], 1, True)]))


def test_plain_card_may_be_mixed_as_often_as_liked() -> None:
    check_mixing(mixture(6, [(PLAIN, 2, True), (PLAIN, 1, True)]))
    with pytest.raises(PlanningError, match="alike"):  # but three cannot each be another of two
        check_mixing(mixture(6, [(PLAIN, 3, True)]))


def test_a_print_too_small_for_a_piece_is_no_use_to_it() -> None:
    papers = [patterned("ash", size(30, 30, "mm"), 9), patterned("birch", size(40, 40, "mm"), 9)]
    pieces = [Piece(name, size(35, 35, "mm"), ("ash", "birch")) for name in ("mat", "patch")]
    with pytest.raises(PlanningError):
        make_plan(project("mm", 2, papers, pieces), ONE_BY_ONE)
    one = project("mm", 2, papers, pieces[:1])
    plan = make_plan(one, ONE_BY_ONE)
    assert plan_faults(one, plan, ONE_BY_ONE) == []
    assert {card.pieces["mat"] for card in plan.combinations} == {"birch"}


@pytest.mark.parametrize("copies", [1, 2])
def test_a_wanted_piece_gives_way_to_the_mixture(copies: int) -> None:
    """Wanted only where it fits, a fixed print may not be on a card that shows it already."""
    asked = mixture(4, [(["ash", "birch"], 1, True), (["ash"], copies, False)])
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []


def test_a_wanted_piece_alone_opens_no_sheet() -> None:
    asked = mixture(2, [(["ash", "birch"], 1, False)])
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert {sheet.paper for sheet in plan.sheets} == {"ready base"}
    assert [dict(card.pieces) for card in plan.combinations] == [{}, {}]


def test_a_pad_of_many_prints_is_planned_like_any_other() -> None:
    prints = tuple(f"page {number}" for number in range(1, 25))
    papers = [patterned(name, size(152, 152, "mm"), 1) for name in prints]
    pieces = [
        Piece("panel", size(95, 130, "mm"), prints),
        Piece("band", size(95, 20, "mm"), prints),
    ]
    asked = project("mm", 12, papers, pieces)
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert (plan.shortages, len(plan.sheets)) == ((), 12 + 12)  # a panel fills a page, a base too


@pytest.mark.parametrize("cards", [9, 50, 1_000])
def test_two_prints_are_cut_so_that_both_ways_round_are_dealt(cards: int) -> None:
    """A panel and a band of two prints can meet in two ways, by hand."""
    plan = make_plan(design(cards), Trimmer(), Watch(limits=SOON))
    assert plan.different == plan.totals.most_different == 2
