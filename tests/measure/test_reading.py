import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.measure.lengths import lengths, signed, units
from workbench.measure.length import ZERO, Length, MeasureError, Unit
from workbench.measure.reading import LONGEST, read_exact, read_length
from workbench.measure.writing import write_exact, write_file, write_number

FIVE_AND_A_QUARTER = Length(Fraction("133.35"))  # 5.25 x 25.4


@pytest.mark.parametrize(
    "text",
    [
        "5 1/4",
        '5-1/4"',
        "5¼",
        "5 ¼",
        "5-¼ in",
        "5.25",
        "5.25 in",
        "5,25in",
        "  5   1/4  inch ",
        "5 1 / 4 inches",
        "5\u00a01/4\u202fin",
        "5 1⁄4″",
        "5 1∕4”",
        "5‑1/4 in",
        "5–1/4 IN.",
        "5 2/8 Inches",
        "21/4",
        "5 1/4''",
        "133.35 mm",
        "133,35 mm",
        "13.335 cm",
        "13,3350cm",
    ],
)
def test_every_way_to_write_five_and_a_quarter_inches(text: str) -> None:
    assert read_length(text, "in") == FIVE_AND_A_QUARTER


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("133 mm", "in", "133"),
        ("13.3 cm", "in", "133"),
        ("133,5 mm", "in", "133.5"),
        ("133", "mm", "133"),
        ("133.5", "mm", "133.5"),
        (".5", "mm", "0.5"),
        ("0,375", "mm", "0.375"),
        ("12 millimetres", "in", "12"),
        ("1/2", "in", "12.7"),
        ("½", "in", "12.7"),
        ("⅞", "in", "22.225"),
        ("4", "in", "101.6"),
        ("4 in", "mm", "101.6"),
        (4, "in", "101.6"),
        (105, "mm", "105"),
        ("0", "in", "0"),
        ("100000 mm", "in", "100000"),
    ],
)
def test_lengths_as_people_write_them(text: str | int, unit: Unit, mm: str) -> None:
    # Expected millimetres follow from 1 in = 25.4 mm (NBS Circular 572, addendum, 1960).
    assert read_length(text, unit) == Length(Fraction(mm))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("\u00a0", "nothing is written"),
        ("five", "does not start with a number"),
        ("in", "does not start with a number"),
        ('"', "does not start with a number"),
        ("nan", "does not start with a number"),
        ("inf", "does not start with a number"),
        ("+5", "does not start with a number"),
        ("٥", "does not start with a number"),
        ("[b]5[/b]", "does not start with a number"),
        ("\x1b[31m5", "does not start with a number"),
        ("-5", "less than nothing"),
        ("−3 1/4", "less than nothing"),
        ("-½", "less than nothing"),
        ("1/0", "0 below the line"),
        ("5 1/0", "0 below the line"),
        ("1/2/3", "more than one fraction"),
        ("½½", "more than one fraction"),
        ("1,234", "could mean 1234 or 1.234"),
        ("12,345 mm", "could mean 12345 or 12.345"),
        ("1,234,567", "more than one point or comma"),
        ("1.234,5", "more than one point or comma"),
        ("1..5", "more than one point or comma"),
        ("1e3", "exponent"),
        ("1E+3 mm", "exponent"),
        ("5 5/4", "a fraction of 1 or more"),
        ("5 1", "not one number"),
        ("1 234 mm", "not one number"),
        ("5 - 1/4", "not one number"),
        ("5.5 1/2", "not one number"),
        ("5 1/2.5", "not one number"),
        ("5/", "not one number"),
        ("/4", "not one number"),
        ("5.", "not one number"),
        ("5-", "not one number"),
        ("5 ft", "no unit of length here"),
        ("5'", "no unit of length here"),
        ("3 m", "no unit of length here"),
        ("0x10", "no unit of length here"),
        ("1_000", "no unit of length here"),
        ("5 x 7", "no unit of length here"),
        ("5 in 1/4", "no unit of length here"),
        ("5 in\n7 in", "no unit of length here"),
        ("1" * 121, "has 121 characters"),
        ("1" * 5000, "has 5000 characters"),
        ("100001 mm", "longer than 100 m"),
        ("99999", "longer than 100 m"),
    ],
)
def test_what_cannot_be_a_length_gets_one_clear_line(text: str, says: str) -> None:
    with pytest.raises(MeasureError, match=says) as caught:
        read_length(text, "in")
    line = str(caught.value)
    assert line.isprintable()
    assert len(line) < 150
    assert caught.value.what
    assert caught.value.mend


@pytest.mark.parametrize(
    "value", [True, False, math.nan, math.inf, -math.inf, -1, -0.5, 10**4000, -(10**4000), 1e300]
)
def test_numbers_that_are_no_length_are_refused(value: float) -> None:
    with pytest.raises(MeasureError) as caught:
        read_length(value, "in")
    assert len(str(caught.value)) < 150


@pytest.mark.parametrize("value", [None, [5], {"in": 5}, b"5"])
def test_other_types_are_refused(value: object) -> None:
    with pytest.raises(MeasureError, match="is not a length"):
        read_length(value, "in")  # type: ignore[arg-type]


def test_a_float_stands_for_the_decimal_it_prints_as() -> None:
    assert read_length(5.25, "in") == FIVE_AND_A_QUARTER
    assert read_length(5.1, "mm") == Length(Fraction(51, 10))
    assert read_length("5 1/4", "in") == FIVE_AND_A_QUARTER
    assert read_length(-0.0, "in") == read_length(0, "in")


@settings(deadline=None)
@given(st.just(0.0) | st.floats(1e-9, 3000), units)
def test_floats_are_read_as_the_decimal_module_reads_their_digits(value: float, unit: Unit) -> None:
    # General library: Python's decimal module.
    assert read_length(value, unit) == Length.of(Fraction(Decimal(repr(value))), unit)


@pytest.mark.parametrize("value", [1e-300, 5e-324, "0." + "0" * 99 + "1", "1/" + "3" * 99])
def test_what_is_too_fine_to_be_written_again_is_refused(value: float | str) -> None:
    with pytest.raises(MeasureError, match="finer") as caught:
        read_length(value, "in")
    assert len(str(caught.value)) < 150


near_misses = st.text("0123456789 .,/-¼⅞½\"'incme\u00a0⁄x", max_size=15)
longish = st.from_regex(r"[0-9]{1,4}(\.[0-9]{1,110}|/[1-9][0-9]{0,100})?( in| cm)?", fullmatch=True)


@settings(deadline=None)
@given(st.text() | near_misses | longish, units)
def test_any_text_is_a_length_that_reads_back_or_one_clear_line(text: str, unit: Unit) -> None:
    try:
        length = read_length(text, unit)
    except MeasureError as error:
        assert str(error).isprintable()
        return
    assert ZERO <= length <= LONGEST
    for held in ("in", "mm"):
        assert read_length(write_file(length, held), held) == length


@settings(deadline=None)
@given(lengths, units)
def test_what_a_project_file_holds_reads_back(length: Length, unit: Unit) -> None:
    held = write_file(length, unit)
    assert read_length(held, unit) == length


@settings(deadline=None)
@given(lengths, units, units)
def test_what_is_shown_exactly_reads_back(length: Length, unit: Unit, screen: Unit) -> None:
    assert read_length(write_number(length, unit), unit) == length
    assert read_length(f"{write_number(length, unit)} {unit}", screen) == length


@settings(deadline=None)
@given(signed, units)
def test_the_exact_form_reads_back(length: Length, unit: Unit) -> None:
    assert read_exact(write_exact(length, unit)) == length


@pytest.mark.parametrize("text", ["", "5", "5 1/4 in", "5.25 in", "5in", "5 cm", "1/0 in", "5 in "])
def test_the_exact_form_is_strict(text: str) -> None:
    with pytest.raises(MeasureError, match="is not an exact length"):
        read_exact(text)
