"""Cards all alike, all different, or dealt anew, against every choice there could be."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.checker import plan_faults
from tests.planning.mixing.test_redeal import PROJECT
from tests.planning.projects import ONE_BY_ONE, patterned, plain, project, size
from workbench.craft.card import Piece
from workbench.craft.mixing import FixedCard, Likeness, Mixing
from workbench.craft.paper import Back
from workbench.craft.project import Project
from workbench.planning.driver import make_plan
from workbench.planning.mixing.redeal import dealt_anew, redealt, swapped
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Plan

PRINTS = ("ash", "birch", "cedar", "elm")
LAYER, SHEET = size(10, 10, "mm"), size(30, 20, "mm")

Layers = Sequence[tuple[Sequence[str], int]]
SOME_LAYERS = st.lists(
    st.tuples(
        st.lists(st.sampled_from((*PRINTS, "chalk")), min_size=1, max_size=3, unique=True),
        st.sampled_from((1, 1, 2)),
    ),
    min_size=1,
    max_size=3,
).filter(lambda layers: sum(copies for _, copies in layers) <= 3)


def asked_for(
    cards: int, layers: Layers, wish: Likeness, sheets: int = 9, mixing: Mixing | None = None
) -> Project:
    papers = [patterned(name, SHEET, sheets) for name in PRINTS] + [plain("chalk", SHEET, sheets)]
    pieces = [
        Piece(
            f"layer {chr(ord('a') + number)}",
            LAYER,
            tuple(names),
            per_card=copies,
            copies="each another",
        )
        for number, (names, copies) in enumerate(layers)
    ]
    asked = project("mm", cards, papers, pieces)
    return replace(asked, mixing=replace(mixing or asked.mixing, wish=wish))


def looks(plan: Plan) -> Counter[tuple[tuple[str, str], ...]]:
    return Counter(tuple(card.pieces.items()) for card in plan.combinations)


def possible_cards(asked: Project) -> list[tuple[str, ...]]:
    """Every card without a print twice, a copy of a piece as a layer of its own."""
    layers = asked.layers()
    fixed = {layer.piece.papers[0] for layer in layers if not asked.mixed(layer.piece)}
    found = []
    for faces in product(*(layer.piece.papers for layer in layers)):
        mixed = [
            face
            for layer, face in zip(layers, faces, strict=True)
            if asked.mixed(layer.piece) and asked.paper(face).shows_print
        ]
        copies = Counter(
            (layer.piece.name, face)
            for layer, face in zip(layers, faces, strict=True)
            if asked.mixed(layer.piece)
        )
        another = all(times == 1 for times in copies.values())
        if another and len(mixed) == len(set(mixed)) and not fixed & set(mixed):
            found.append(faces)
    return found


@given(st.integers(1, 5), SOME_LAYERS)
@settings(max_examples=examples(12), deadline=None)
def test_a_set_is_of_one_kind_in_the_fewest_sheets_of_any_kind(cards: int, layers: Layers) -> None:
    asked = asked_for(cards, layers, "as a set")
    kinds = possible_cards(asked)
    if not kinds:
        with pytest.raises(PlanningError):
            make_plan(asked, ONE_BY_ONE)
        return
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert len(looks(plan)) == 1
    # Six pieces fill a sheet, so the sheets of one kind can be counted.
    fewest = min(sum(-(-cards * n // 6) for n in Counter(kind).values()) for kind in kinds)
    assert plan.totals.sheets == fewest + cards


@given(st.integers(1, 7), SOME_LAYERS)
@settings(max_examples=examples(12), deadline=None)
def test_no_two_cards_are_alike_or_it_is_said_how_many_can_differ(
    cards: int, layers: Layers
) -> None:
    asked = asked_for(cards, layers, "all different")
    kinds = possible_cards(asked)
    try:
        plan = make_plan(asked, ONE_BY_ONE)
    except PlanningError as error:
        assert len(kinds) < cards
        assert not kinds or f"only {len(kinds)} different" in str(error)
        return
    assert len(kinds) >= cards
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert set(looks(plan).values()) == {1}


def test_faces_of_one_paper_differ_too() -> None:
    asked = asked_for(4, [(("ash",), 1), (("birch", "cedar"), 1)], "all different")
    faced = tuple(
        replace(paper, back=Back("ash back", "stripe")) if paper.name == "ash" else paper
        for paper in asked.papers
    )
    plan = make_plan(replace(asked, papers=faced), ONE_BY_ONE)
    assert set(looks(plan).values()) == {1}


def test_where_paper_is_short_a_set_is_bought_for() -> None:
    plan = make_plan(asked_for(9, [(PRINTS, 1)], "as a set", sheets=1), ONE_BY_ONE)
    assert [shortage.sheets for shortage in plan.shortages] == [1]
    assert len(looks(plan)) == 1


def test_cards_fixed_unlike_cannot_be_a_set() -> None:
    held = Mixing(
        cards=(FixedCard(1, {"layer a": "ash"}), FixedCard(2, {"layer a": "elm"})),
    )
    with pytest.raises(PlanningError) as refused:
        make_plan(asked_for(4, [(PRINTS, 1)], "as a set", mixing=held), ONE_BY_ONE)
    for word in ("alike", "card 1", "card 2", "ash", "elm"):
        assert word in str(refused.value)


def test_a_fixed_card_says_what_the_set_is() -> None:
    held = Mixing(cards=(FixedCard(2, {"layer a": "elm"}),))
    plan = make_plan(asked_for(4, [(PRINTS, 1)], "as a set", mixing=held), ONE_BY_ONE)
    assert {card.pieces["layer a"] for card in plan.combinations} == {"elm"}


@given(st.integers(3, 8), SOME_LAYERS, st.integers(1, 99))
@settings(max_examples=examples(12), deadline=None)
def test_the_same_number_gives_the_same_deal_and_every_deal_is_as_varied(
    cards: int, layers: Layers, number: int
) -> None:
    asked = asked_for(cards, layers, "varied")
    assume(possible_cards(asked))
    plan = make_plan(asked, ONE_BY_ONE)
    numbered = replace(asked, mixing=Mixing(deal=number))
    dealt = redealt(numbered, plan, Watch())
    assert dealt == redealt(numbered, plan, Watch())
    assert plan_faults(numbered, dealt, ONE_BY_ONE) == []
    assert len(looks(dealt)) == len(looks(plan))


def test_every_new_deal_is_new_and_is_kept_with_the_project() -> None:
    asked, seen = PROJECT, list[Counter[tuple[tuple[str, str], ...]]]()
    plan = make_plan(asked, ONE_BY_ONE)
    for _ in range(5):
        seen.append(looks(plan))
        asked, plan = dealt_anew(asked, plan, Watch())
        assert plan_faults(asked, plan, ONE_BY_ONE) == []
        assert looks(plan) != seen[-1]
    assert make_plan(asked, ONE_BY_ONE).combinations == plan.combinations


def test_a_batch_too_mixed_to_list_is_dealt_anew_as_well() -> None:
    papers = [patterned(f"leaf {number}x", SHEET, 2) for number in range(24)]
    names = tuple(paper.name for paper in papers)
    pieces = [Piece(f"layer {letter}", LAYER, names) for letter in "abcd"]
    asked = project("mm", 20, papers, pieces)
    plan = make_plan(asked, ONE_BY_ONE)
    numbered, dealt = dealt_anew(asked, plan, Watch())
    assert plan_faults(numbered, dealt, ONE_BY_ONE) == []
    assert dealt.combinations != plan.combinations


def test_where_there_is_one_deal_only_it_is_said() -> None:
    asked = asked_for(3, [(("ash",), 1)], "varied")
    with pytest.raises(PlanningError, match="no other way"):
        dealt_anew(asked, make_plan(asked, ONE_BY_ONE), Watch())


def test_a_swap_that_makes_two_cards_alike_is_refused_where_all_shall_differ() -> None:
    asked = asked_for(4, [(("ash", "birch"), 1), (("cedar", "elm"), 1)], "all different")
    plan = make_plan(asked, ONE_BY_ONE)
    other = next(
        card.card
        for card in plan.combinations[1:]
        if card.pieces["layer a"] != plan.combinations[0].pieces["layer a"]
        and card.pieces["layer b"] != plan.combinations[0].pieces["layer b"]
    )
    with pytest.raises(PlanningError, match="would be alike"):
        swapped(asked, plan, "layer a", 1, other)
