"""Numbers as people write them."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.measure.length import MeasureError
from workbench.measure.numerals import (
    LONGEST_TEXT,
    MOST_WHOLE,
    mixed,
    plain,
    quoted,
    read_amount,
    read_minutes,
    read_whole,
)

NUMBERS = st.fractions(0, 10_000, max_denominator=640)


@given(NUMBERS, st.sampled_from((mixed, plain)), st.sampled_from(("", " mm", '"')))
def test_what_is_written_is_read_back_the_same(
    number: Fraction, write: Callable[[Fraction], str], unit: str
) -> None:
    assert read_amount(write(number) + unit, "4") == (number, unit.strip())


@given(NUMBERS)
def test_a_number_is_mixed_in_lowest_terms(number: Fraction) -> None:
    whole, _, part = mixed(number).rpartition(" ")
    if "/" in part:
        assert Fraction(part) < 1 or not whole
        assert part == str(Fraction(part))
    assert mixed(-number) == (f"-{mixed(number)}" if number else "0")


@pytest.mark.parametrize(
    ("text", "number"),
    [("5¼", "21/4"), ("5-1/4", "21/4"), ("5 1⁄4", "21/4"), ("133,5", "267/2"), (".5", "1/2")],
)
def test_other_ways_to_write_the_same(text: str, number: str) -> None:
    assert read_amount(text, "4") == (Fraction(number), "")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "nothing is written"),
        ("-3", "less than nothing"),
        ("mm 3", "does not start with a number"),
        ("1,234", "could mean 1234 or 1.234"),
        ("3 5/4", "fraction of 1 or more"),
        ("1/0", "0 below the line"),
        ("1/2/3", "more than one fraction"),
        ("1e3", "exponent"),
        ("1.2.3", "more than one point"),
        ("9" * (LONGEST_TEXT + 1), "characters"),
    ],
)
def test_what_could_be_misread_is_refused(text: str, what: str) -> None:
    with pytest.raises(MeasureError) as caught:
        read_amount(text, "4")
    assert what in caught.value.what
    assert caught.value.mend


@settings(max_examples=examples(20))
@given(st.text(max_size=60))
def test_what_is_quoted_is_short_and_can_be_printed(text: str) -> None:
    shown = quoted(text)
    assert shown.isprintable()
    assert len(shown) <= 42


def test_minutes_are_exact() -> None:
    assert read_minutes("1 1/2 min") == Fraction(3, 2)
    with pytest.raises(MeasureError, match="minutes"):
        read_minutes("2 hours")


@given(st.integers(0, MOST_WHOLE), st.sampled_from(("{}", " {} ", "00{}")))
def test_a_whole_number_is_read_as_python_reads_it(number: int, written: str) -> None:
    assert read_whole(written.format(number)) == int(written.format(number)) == number


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "nothing is written"),
        ("-3", "less than nothing"),
        ("−3", "less than nothing"),
        *((text, "not a whole number") for text in ("4.5", "four", "1,000", "1_0", "+3", "٣", "¹")),
        (str(MOST_WHOLE + 1), "too large"),
        # Python refuses to read this many digits (docs.python.org, "Integer string conversion
        # length limitation").
        ("9" * 5000, "too large"),
        ("9" * 5000 + "x", "not a whole number"),
    ],
)
def test_what_is_no_whole_number_is_refused(text: str, what: str) -> None:
    with pytest.raises(MeasureError) as caught:
        read_whole(text)
    assert what in caught.value.what
    assert len(caught.value.what) < 80


def test_a_whole_number_out_of_its_range_is_refused() -> None:
    assert read_whole("1", 9, 1) == 1
    for text, what in (("10", "too large"), ("0", "too small")):
        with pytest.raises(MeasureError, match=what):
            read_whole(text, 9, 1)
