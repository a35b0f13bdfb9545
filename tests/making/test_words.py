"""Small pieces of sentences."""

from dataclasses import replace

from tests.making.plans import PLAN
from workbench.making.words import how_different, taken_words, which_cards
from workbench.measure.counting import counted


def test_one_of_a_thing_is_no_plural() -> None:
    assert [counted(number, "sheet") for number in (0, 1, 2)] == ["0 sheets", "1 sheet", "2 sheets"]


def test_cards_are_told_by_number_unless_it_is_all_of_them() -> None:
    told = [which_cards(numbers, 9) for numbers in ([3], [1, 2, 3], [1, 2, 7], list(range(1, 10)))]
    assert told == ["card 3", "cards 1–3", "cards 1–2, 7", "every card"]
    assert which_cards([1], 1) == "every card"


def test_a_plan_of_offcuts_takes_no_sheet() -> None:
    """A card from scraps was said to be of 0 sheets, and fewer impossible."""
    scraps = tuple(replace(sheet, offcut=True) for sheet in PLAN.sheets)
    alone = replace(PLAN, sheets=scraps, totals=replace(PLAN.totals, sheets=0))
    mixed = replace(PLAN, sheets=(*scraps, PLAN.sheets[0]), totals=replace(PLAN.totals, sheets=1))
    some = len(scraps)
    assert taken_words(PLAN, " (proven)") == f"{some} sheets (proven)"
    assert taken_words(alone, " (proven)") == f"{some} offcuts and no sheet"
    assert taken_words(mixed, " (proven)") == f"{some} offcuts and 1 sheet (proven)"


def test_cards_of_one_look_are_alike() -> None:
    assert [how_different(looks) for looks in (1, 2)] == ["all alike", "2 different"]
