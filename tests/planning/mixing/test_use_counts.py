"""Which prints are used: all that are ticked, evenly, or as counted; the checker recounts them."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import FOR_SHEETS, examples
from tests.planning.checker import plan_faults
from tests.planning.mixing.test_deal import PRINTS, mixture
from tests.planning.projects import ONE_BY_ONE
from workbench.craft.card import COPIES, Card, Copies, Piece
from workbench.craft.mixing import Mixing, Use
from workbench.craft.paper import Back, Paper, Size, Strip
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.driver import make_plan
from workbench.planning.mixing.conflicts import check_mixing
from workbench.planning.progress import PlanningError, Watch


@settings(max_examples=examples(20), deadline=None)
@given(
    st.integers(2, 9),
    st.integers(2, 4),
    st.sampled_from((1, 2)),
    st.sampled_from(COPIES),
    st.sampled_from(("all", "evenly")),
)
def test_prints_are_used_as_wished(
    cards: int, prints: int, times: int, copies: Copies, use: Use
) -> None:
    asked = mixture(cards, [(PRINTS[:prints], times, True)], copies)
    asked = replace(asked, mixing=Mixing(use=use))
    slots = cards * (times if copies == "each another" else 1)
    if use == "all" and prints > slots:
        with pytest.raises(PlanningError, match="used"):
            make_plan(asked, ONE_BY_ONE)
        return
    assert plan_faults(asked, make_plan(asked, ONE_BY_ONE), ONE_BY_ONE) == []


@settings(max_examples=examples(20), deadline=None)
@given(st.integers(1, 6), st.integers(0, 14), st.sampled_from(COPIES))
def test_so_many_of_a_print_are_used_or_it_is_said_that_they_cannot_be(
    cards: int, count: int, copies: Copies
) -> None:
    """Two pieces a card of three prints: each once at most, or one on both where they are alike."""
    asked = mixture(cards, [(PRINTS[:3], 2, True)], copies)
    asked = replace(asked, mixing=Mixing(use={"birch": count}))
    alike = copies == "alike"
    possible = count % 2 == 0 and count <= 2 * cards if alike else count <= cards
    if possible:
        assert plan_faults(asked, make_plan(asked, ONE_BY_ONE), ONE_BY_ONE) == []
    else:
        with pytest.raises(PlanningError, match=f'{count} pieces? of "birch"'):
            check_mixing(asked)


def test_even_use_gives_way_to_what_cards_allow() -> None:
    """Two layers take ash and birch on every card, so the third is cedar on all of them."""
    both, all_three = (PRINTS[:2], 1, True), (PRINTS[:3], 1, True)
    asked = mixture(6, [both, both, all_three])
    asked = replace(asked, mixing=Mixing(use="evenly"))
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert {card.pieces["layer 3"] for card in plan.combinations} == {"cedar"}
    assert [card.pieces["layer 1"] for card in plan.combinations].count("ash") == 3


def test_a_spare_does_not_take_the_only_piece_of_a_print_that_shall_be_used() -> None:
    """The two faces of fern make two different cards; gull is to be on a card nevertheless."""

    def square(side: int) -> Size:
        return Size(Length.of(side, "mm"), Length.of(side, "mm"))

    top = Strip("top", Length.of(1, "mm"))
    edge = Strip("left", Length.of(1, "mm"))
    back = Back("back of fern", "stripe")
    fern = Paper("fern", "patterned", square(100), 0, "dot", strip=top, back=back)
    gull = Paper("gull", "patterned", square(100), 0, "dot", strip=edge)
    heath = Paper("heath", "patterned", square(100), 0, "solid", strip=edge)
    small = square(20)
    asked = Project(
        title="Ferns",
        units="mm",
        card=Card(square(40), "top", "heath", 2),
        papers=(fern, gull, heath),
        pieces=(Piece("front", small, ("fern",)), Piece("mat", small, ("fern", "gull"), spare=1)),
        mixing=Mixing(use="all"),
    )
    long = Length.of(110, "mm")
    trimmer = Trimmer(cut_length=long, rule_length=long, hold=Length.of(0, "mm"))
    plan = make_plan(asked, trimmer, Watch(limits=FOR_SHEETS))
    assert plan_faults(asked, plan, trimmer) == []


def test_refusals_name_every_way_out() -> None:
    with pytest.raises(PlanningError) as refused:
        check_mixing(mixture(6, [(PRINTS[:2], 2, True), (PRINTS[:2], 1, True)]))
    for way in (
        "1 more print",
        'copies of "layer 1" on a card be alike',
        "show on several pieces of a card",
    ):
        assert way in str(refused.value)


def test_the_checker_sees_what_another_wish_would_have_asked() -> None:
    """A plan made for one project is held against another that asks for something else."""
    pairs = [(PRINTS[:2], 2, True)]
    another, alike = mixture(4, pairs), mixture(4, pairs, "alike")
    loose = mixture(4, [(PRINTS[:2], 1, True)] * 3, repeat=True)
    strict = replace(loose, mixing=Mixing())
    some = mixture(4, [(PRINTS, 1, True)])
    every, counted = (replace(some, mixing=Mixing(use=use)) for use in ("all", {"ash": 3}))
    for made_for, held_against, fault in (
        (another, alike, "is not alike"),
        (alike, another, "is not each another"),
        (loose, strict, "twice"),
        (some, every, "it is not used"),
        (some, counted, "pieces of it on cards, not 3"),
    ):
        plan = make_plan(made_for, ONE_BY_ONE)
        assert plan_faults(made_for, plan, ONE_BY_ONE) == []
        assert any(fault in each for each in plan_faults(held_against, plan, ONE_BY_ONE))
