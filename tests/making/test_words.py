"""Small pieces of sentences."""

from workbench.making.words import counted


def test_one_of_a_thing_is_no_plural() -> None:
    assert [counted(number, "sheet") for number in (0, 1, 2)] == ["0 sheets", "1 sheet", "2 sheets"]
