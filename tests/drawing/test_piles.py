"""The places that cards are dealt at: every card has one, where they fit."""

from dataclasses import replace

import pytest

from tests.making.plans import DEALT, HARBOUR
from workbench.drawing.piles import draw_piles
from workbench.making.plan_index import PlanIndex
from workbench.planning.result import Combination, Deal

STEP = next(step for step in DEALT.steps if isinstance(step, Deal))


def index_of(cards: int) -> PlanIndex:
    """The plan, with cards added that the step at hand deals nothing to."""
    shown = DEALT.combinations[0].pieces
    others = (Combination(n, shown) for n in range(len(DEALT.combinations) + 1, cards + 1))
    combinations = (*DEALT.combinations, *others)
    return PlanIndex(HARBOUR, replace(DEALT, cards=cards, combinations=combinations))


def drawn(cards: int, columns: int, rows: int) -> str:
    return "\n".join(draw_piles(index_of(cards), STEP, columns, rows).lines())


@pytest.mark.parametrize("cards", [2, 9, 30])
def test_every_card_has_its_numbered_place_where_they_fit(cards: int) -> None:
    picture = drawn(cards, 76, 20)
    assert [n for n in range(1, cards + 1) if f" {n} " not in picture] == []


def test_where_not_all_fit_those_that_get_a_part_are_shown() -> None:
    picture = drawn(500, 20, 4)
    assert all(f" {card} " in picture for card in index_of(500).cards_of(STEP))
    assert " 500 " not in picture


def test_only_places_that_get_a_part_stand_out() -> None:
    canvas = draw_piles(index_of(9), STEP, 76, 20)
    bold = {cell.char for row in canvas.rows() for cell in row if cell.bold}
    dealt = {str(card) for card in index_of(9).cards_of(STEP)}
    assert {char for char in bold if char.isdigit()} == dealt
