"""Tall figures can be told apart at every height, and a fraction is drawn as one."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.drawing.figures import HEIGHTS, LOWEST, tall, tallest

numbers = st.one_of(
    st.integers(0, 400).map(str),
    st.decimals(0, 400, places=1).map(str),
    st.builds("{} {}/{}".format, st.integers(1, 30), st.integers(1, 63), st.integers(2, 64)),
)
heights = st.sampled_from(HEIGHTS)


@given(numbers, st.sampled_from(["in", "mm", ""]), heights)
def test_rows_are_as_many_as_asked_and_equally_long(number: str, unit: str, height: int) -> None:
    drawn = tall(number, unit, height)
    assert len(drawn) == height
    assert len({len(row) for row in drawn}) == 1


@pytest.mark.parametrize("height", [*HEIGHTS, 3, 5])
def test_no_two_numerals_look_alike(height: int) -> None:
    drawn = {digit: tall(digit, "", height) for digit in "0123456789"}
    for one, other in combinations(drawn, 2):
        assert drawn[one] != drawn[other]


def test_a_fraction_is_two_numerals_and_a_bar_between_them() -> None:
    assert tall("3 1/8", "in", 7) == (
        "██████▄   ▄█           ",
        "     ██    █           ",
        "     ██   ▄█▄          ",
        "███████  ━━━━━━        ",
        "     ██   █▀▀█   ▀     ",
        "     ██   █▀▀█   █ █▀▀▄",
        "██████▀   █▄▄█   █ █  █",
    )


def test_millimetres_keep_their_decimal() -> None:
    with_point, without = tall("133.5", "mm"), tall("1335", "mm")
    assert with_point != without
    assert with_point[-1].count("██") > without[-1].count("██")


@given(numbers, st.integers(20, 200), st.integers(1, 40))
def test_figures_are_as_tall_as_the_room_allows(number: str, width: int, height: int) -> None:
    drawn = tallest(number, "in", width, height)
    if len(drawn) > LOWEST:
        assert len(drawn) <= height
        assert len(drawn[0]) <= width
    taller = [rows for rows in HEIGHTS if len(drawn) < rows <= height]
    assert all(len(tall(number, "in", rows)[0]) > width for rows in taller)


@pytest.mark.parametrize(("number", "unit"), [("10 15/16", "in"), ("297.5", "mm")])
def test_the_longest_marks_fit_beside_a_sheet_on_a_small_screen(number: str, unit: str) -> None:
    assert len(tallest(number, unit, 48, LOWEST)[0]) <= 48
