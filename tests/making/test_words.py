"""Small pieces of sentences."""

from workbench.making.words import which_cards
from workbench.measure.counting import counted


def test_one_of_a_thing_is_no_plural() -> None:
    assert [counted(number, "sheet") for number in (0, 1, 2)] == ["0 sheets", "1 sheet", "2 sheets"]


def test_cards_are_told_by_number_unless_it_is_all_of_them() -> None:
    told = [which_cards(numbers, 9) for numbers in ([3], [1, 2, 3], [1, 2, 7], list(range(1, 10)))]
    assert told == ["card 3", "cards 1–3", "cards 1–2, 7", "every card"]
    assert which_cards([1], 1) == "every card"
