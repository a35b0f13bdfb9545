"""Cards dealt anew or swapped by hand: every sheet as it was, no rule broken silently."""

from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest

from tests.planning.checker import plan_faults
from tests.planning.mixing.test_deal import mixture
from tests.planning.projects import ONE_BY_ONE, size
from workbench.craft.mixing import FixedCard, Mixing
from workbench.making.words import loss_words, unused_words
from workbench.planning.driver import make_plan
from workbench.planning.mixing.redeal import (
    fixed,
    is_fixed,
    left_over,
    loosened,
    papers_shown,
    redealt,
    repeats,
    swapped,
    swaps,
    unused_papers,
)
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Plan

PRINTS = ("ash", "birch", "cedar", "elm")
ALIKE = mixture(8, [(PRINTS, 1, True), (PRINTS, 1, True)])
# A sheet of each print, of four pieces, so that all four must be mixed.
PROJECT = replace(
    ALIKE,
    papers=tuple(
        replace(paper, size=size(20, 20, "mm"), sheets=1) if paper.name in PRINTS else paper
        for paper in ALIKE.papers
    ),
)
LAYERS = ("layer 1", "layer 2")


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(PROJECT, ONE_BY_ONE)


def pieces(plan: Plan) -> Counter[tuple[str, str]]:
    return Counter(item for card in plan.combinations for item in card.pieces.items())


def test_dealing_again_leaves_every_sheet_and_cut_as_it_was(plan: Plan) -> None:
    again = redealt(PROJECT, plan, Watch())
    assert again.sheets == plan.sheets
    assert pieces(again) == pieces(plan)
    assert plan_faults(PROJECT, again, ONE_BY_ONE) == []


def test_a_fixed_card_stays_when_the_others_are_dealt_again(plan: Plan) -> None:
    card = plan.combinations[3]
    project = fixed(PROJECT, card)
    assert is_fixed(project, 4)
    again = redealt(project, plan, Watch())
    assert again.combinations[3] == card
    assert plan_faults(project, again, ONE_BY_ONE) == []
    assert loosened(project, 4) == PROJECT
    assert fixed(project, card) == project


def test_prints_kept_apart_meet_on_no_card_after_dealing(plan: Plan) -> None:
    project = replace(PROJECT, mixing=Mixing(apart=(("ash", "birch"),)))
    try:
        again = redealt(project, plan, Watch())
    except PlanningError:
        return  # what is cut may not allow it; then it is said, and never half kept
    assert all(not {"ash", "birch"} <= set(card.pieces.values()) for card in again.combinations)


def test_rules_that_cannot_hold_are_refused_in_words(plan: Plan) -> None:
    pairs = tuple(combinations(PRINTS, 2))
    with pytest.raises(PlanningError, match="never meet"):
        redealt(replace(PROJECT, mixing=Mixing(apart=pairs)), plan, Watch())


def test_a_fixed_card_can_be_kept_in_sets() -> None:
    """The mixing gathers rules by equality."""
    one, same = FixedCard(1, {"panel": "ash"}), FixedCard(1, {"panel": "ash"})
    assert len({one, same}) == 1


def test_every_swap_either_keeps_every_rule_or_names_the_one_it_breaks(plan: Plan) -> None:
    kept = refused = 0
    for layer in LAYERS:
        for one, other in combinations(range(1, 9), 2):
            theirs = plan.combinations[other - 1].pieces
            mine = plan.combinations[one - 1].pieces
            beside = next(each for each in LAYERS if each != layer)
            twice = theirs[layer] == mine[beside] or mine[layer] == theirs[beside]
            try:
                project, after = swapped(PROJECT, plan, layer, one, other)
            except PlanningError as error:
                assert twice
                assert "no card shows a print twice" in str(error)
                refused += 1
                continue
            assert not twice
            assert plan_faults(project, after, ONE_BY_ONE) == []
            assert after.combinations[one - 1].pieces[layer] == theirs[layer]
            assert after.combinations[other - 1].pieces[layer] == mine[layer]
            assert is_fixed(project, one)
            assert is_fixed(project, other)
            kept += 1
    assert kept
    assert refused


def test_cards_that_look_alike_and_what_is_left(plan: Plan) -> None:
    for card, others in repeats(plan.combinations).items():
        assert card in others
        assert len(others) > 1
        for other in others:
            assert plan.combinations[other - 1].pieces == plan.combinations[card - 1].pieces
    assert left_over(PROJECT, plan) == Counter()
    first, second = ALIKE.pieces
    spared = replace(ALIKE, pieces=(replace(first, spare=2), second))
    assert left_over(spared, make_plan(spared, ONE_BY_ONE)).total() == 2


@pytest.mark.parametrize(
    "rules",
    [Mixing(), Mixing(apart=(("ash", "elm"),)), Mixing(wish="all different"), Mixing(repeat=True)],
    ids=["free", "apart", "all different", "repeating"],
)
def test_the_cards_to_swap_with_are_those_whose_swap_is_kept(plan: Plan, rules: Mixing) -> None:
    project = replace(PROJECT, mixing=rules)
    dealt = make_plan(project, ONE_BY_ONE)
    for layer in LAYERS:
        kept = []
        for other in range(2, dealt.cards + 1):
            faces = {dealt.combinations[n - 1].pieces[layer] for n in (1, other)}
            try:
                swapped(project, dealt, layer, 1, other)
            except PlanningError:
                continue
            kept += [other] * (len(faces) > 1)
        assert swaps(project, dealt, layer, 1) == tuple(kept)


def test_copies_that_are_alike_are_swapped_together() -> None:
    asked = mixture(4, [(PRINTS[:2], 2, True)], "alike")
    uneven = replace(asked, mixing=Mixing(use={"ash": 4}))
    dealt = make_plan(uneven, ONE_BY_ONE)
    one, *others = dealt.combinations
    assert one.pieces["layer 1"] == one.pieces["layer 1 2"]
    other = next(card for card in others if card.pieces != one.pieces)
    held, after = swapped(uneven, dealt, "layer 1 2", one.card, other.card)
    assert plan_faults(held, after, ONE_BY_ONE) == []
    assert after.combinations[0].pieces == other.pieces


def test_prints_left_in_the_drawer_are_named() -> None:
    asked = mixture(6, [(PRINTS, 1, True), (PRINTS, 1, True)])
    plan = make_plan(asked, ONE_BY_ONE)
    unused = unused_papers(asked, plan)
    assert papers_shown(asked, plan) | set(unused) == set(PRINTS)
    assert unused_words(asked, plan) == f"{' and '.join(unused)}: not used, 2 prints suffice"
    every = replace(asked, mixing=Mixing(use="all"))
    used = make_plan(every, ONE_BY_ONE)
    assert unused_words(every, used) == ""
    told = loss_words(asked, used, plan)
    assert told.startswith(f"{' and '.join(sorted(unused))} will not be used any more")
    assert loss_words(asked, plan, used) == ""
