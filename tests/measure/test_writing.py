from fractions import Fraction

import pytest
from hypothesis import given, settings

from tests.measure.lengths import graduations, lengths, signed, units
from workbench.measure.length import ZERO, Length, MeasureError, Unit
from workbench.measure.writing import (
    HALF_MM,
    ONE_MM,
    SIXTEENTHS,
    Graduation,
    graduation_for,
    nearest_mark,
    where_on_rule,
    write_clean,
    write_exact,
    write_file,
    write_length,
    write_near,
    write_number,
)


def inches(number: str) -> Length:
    return Length.of(number, "in")


def mm(number: str) -> Length:
    return Length.of(number, "mm")


@pytest.mark.parametrize(
    ("side", "mark", "shown"),
    [
        ("105", "33/8", "≈ 4 1/8 in (0.2 mm too short)"),
        ("148", "93/16", "≈ 5 13/16 in (0.4 mm too short)"),
    ],
)
def test_a6_in_sixteenths(side: str, mark: str, shown: str) -> None:
    # A6 is 105 x 148 mm (ISO 216:2007). 4 1/8 in is 104.775 mm and 5 13/16 in 147.6375 mm, at
    # 25.4 mm (NBS Circular 572, addendum, 1960).
    assert nearest_mark(mm(side), SIXTEENTHS).mark == inches(mark)
    assert write_length(mm(side), SIXTEENTHS) == shown


@pytest.mark.parametrize(
    ("length", "even"),
    [("1/32", "0"), ("3/32", "2/16"), ("5/32", "2/16"), ("7/32", "4/16"), ("97/32", "3")],
)
def test_midway_takes_the_even_graduation(length: str, even: str) -> None:
    # NIST Handbook 44, Appendix A, 10.3: midway between two graduations, take the even one.
    assert nearest_mark(inches(length), SIXTEENTHS).mark == inches(even)


@settings(deadline=None)
@given(signed, graduations)
def test_the_nearest_mark_is_at_most_half_a_step_off(length: Length, rule: Graduation) -> None:
    reading = nearest_mark(length, rule)
    assert abs(reading.off) * 2 <= rule.interval
    assert reading.mark - reading.off == length
    assert reading.mark.ratio(rule.interval).denominator == 1
    assert rule.rank(reading.mark) is not None
    assert nearest_mark(reading.mark, rule).off == ZERO


@pytest.mark.parametrize(
    ("length", "rule", "shown"),
    [
        (inches("21/4"), SIXTEENTHS, "5 1/4 in"),
        (inches("5"), SIXTEENTHS, "5 in"),
        (inches("1/2"), SIXTEENTHS, "1/2 in"),
        (inches("-1/2"), SIXTEENTHS, "-1/2 in"),
        (inches("-21/4"), SIXTEENTHS, "-5 1/4 in"),
        (ZERO, SIXTEENTHS, "0 in"),
        (mm("133"), ONE_MM, "133 mm"),
        (mm("133.5"), HALF_MM, "133.5 mm"),
        (mm("133.4"), HALF_MM, "≈ 133.5 mm (0.1 mm too long)"),
        (mm("133.4"), ONE_MM, "≈ 133 mm (0.4 mm too short)"),
        (mm("133.01"), ONE_MM, "≈ 133 mm (less than 0.1 mm too short)"),
        (inches("169/32"), SIXTEENTHS, "≈ 5 1/4 in (0.8 mm too short)"),
    ],
)
def test_lengths_are_shown_as_the_rule_reads(length: Length, rule: Graduation, shown: str) -> None:
    # 1/32 in = 0.79375 mm (NBS Circular 572, addendum, 1960).
    assert write_length(length, rule) == shown


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (inches("21/4"), "in", "21/4 in"),
        (inches("5"), "in", "5 in"),
        (mm("105"), "mm", "105 mm"),
        (mm("105"), "in", "525/127 in"),
        (inches("1/16"), "mm", "127/80 mm"),
    ],
)
def test_the_exact_form(length: Length, unit: Unit, text: str) -> None:
    assert write_exact(length, unit) == text


@pytest.mark.parametrize(
    ("length", "unit", "held"),
    [
        (inches("5"), "in", 5),
        (ZERO, "in", 0),
        (inches("21/4"), "in", "5 1/4"),
        (inches("1/64"), "in", "1/64"),
        (inches("1/128"), "in", "1/128 in"),
        (mm("133"), "in", "133 mm"),
        (mm("133.5"), "in", "133.5 mm"),
        (inches("1/3"), "in", "1/3 in"),
        (mm("133"), "mm", 133),
        (mm("133.5"), "mm", "133.5"),
        (inches("33/8"), "mm", "4 1/8 in"),
        (inches("1/2"), "mm", "12.7"),
        (mm("133.25"), "mm", "133.25 mm"),
        (Length(Fraction(1, 7)), "mm", "1/7 mm"),
    ],
)
def test_how_a_project_file_holds_a_length(length: Length, unit: Unit, held: str | int) -> None:
    assert write_file(length, unit) == held


@pytest.mark.parametrize(
    ("length", "unit", "told"),
    [
        (inches("3/64"), "in", "3/64 in"),
        (inches("16/3"), "in", "5 1/3 in"),
        (mm("6.35"), "mm", "6.35 mm"),
        (mm("133"), "in", "about 5 15/64 in"),  # 5.2362 in
        (inches("1/64"), "mm", "about 0.4 mm"),  # 0.396875 mm
        (inches("123456789/987654321"), "in", "about 1/8 in"),  # 0.12499999886
        (inches("1/987654321"), "in", "a hair (less than 1/64 in)"),
        (inches("1/987654321"), "mm", "a hair (less than 0.1 mm)"),
        (ZERO, "mm", "0 mm"),
    ],
)
def test_lengths_told_are_exact_or_short(length: Length, unit: Unit, told: str) -> None:
    assert write_near(length, unit) == told
    exact = not told.startswith(("about", "a hair"))
    assert write_clean(length, unit) == (told if exact else None)


@given(lengths, units)
def test_a_length_told_is_never_a_long_number(length: Length, unit: Unit) -> None:
    """100 m, the longest there is, has six digits before the point."""
    assert len(write_near(length, unit)) <= len("a hair (less than 1/64 in)")


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        # 3 1/8 lies halfway between 3 and 3 1/4: common practice at the trimmer, no source.
        ("25/8", "halfway between 3 and 3 1/4"),
        ("5", "on the 5 in line"),
        ("0", "on the 0 in line"),
        ("7/2", "halfway between 3 and 4"),
        ("13/4", "halfway between 3 and 3 1/2"),
        ("31/8", "halfway between 3 3/4 and 4"),
        ("65/16", "1 small line (sixteenth) past 4"),
        ("75/16", "3 small lines (sixteenths) past 4 1/2"),
        ("77/16", "3 small lines (sixteenths) before 5"),
        ("1/32", "halfway between 0 and 1/16"),
        ("33/64", "between 1/2 and 9/16, nearer 1/2"),
        ("35/64", "between 1/2 and 9/16, nearer 9/16"),
    ],
)
def test_where_to_look_on_a_rule_in_sixteenths(mark: str, words: str) -> None:
    assert where_on_rule(inches(mark), SIXTEENTHS) == words


@pytest.mark.parametrize(
    ("mark", "rule", "words"),
    [
        ("130", ONE_MM, "on the 130 mm line"),
        ("135", ONE_MM, "halfway between 130 and 140 mm"),
        ("132", ONE_MM, "2 small lines past 130 mm"),
        ("139", ONE_MM, "1 small line before 140 mm"),
        ("132", HALF_MM, "2 small lines (millimetres) past 130 mm"),
        ("133.5", HALF_MM, "halfway between 133 and 134 mm"),
        ("133.5", ONE_MM, "halfway between 133 and 134 mm"),
        ("133.2", ONE_MM, "between 133 and 134 mm, nearer 133"),
    ],
)
def test_where_to_look_on_a_metric_rule(mark: str, rule: Graduation, words: str) -> None:
    assert where_on_rule(mm(mark), rule) == words


def position(words: str, names: dict[str, Fraction]) -> Fraction:
    """Follow the words with a finger on the rule; an independent reading of `where_on_rule`."""
    terms = words.replace(",", "").removesuffix(" mm").split()
    match terms:
        case ["on", "the", *number, "in" | "mm", "line"]:
            return sum(map(Fraction, number), Fraction(0))
        case ["halfway", "between", *both]:
            at = both.index("and")
            low, high = both[:at], both[at + 1 :]
            return sum(map(Fraction, low + high), Fraction(0)) / 2
        case [count, "small", "line" | "lines", *rest]:
            name = rest.pop(0).strip("()").removesuffix("s") if rest[0][0] == "(" else "millimetre"
            way = int(count) * names[name]
            start = sum(map(Fraction, rest[1:]), Fraction(0))
            return start + way if rest[0] == "past" else start - way
    raise AssertionError(words)


@settings(deadline=None)
@given(lengths, graduations)
def test_following_the_words_leads_to_the_mark(length: Length, rule: Graduation) -> None:
    names = {
        "sixteenth": Fraction(1, 16),
        "thirty-second": Fraction(1, 32),
        "sixty-fourth": Fraction(1, 64),
        "millimetre": Fraction(1),
    }
    mark = nearest_mark(length, rule).mark
    assert position(where_on_rule(mark, rule), names) == mark.number(rule.unit)


def test_ordinary_rules() -> None:
    # Federal item description A-A-355B: a US office ruler is graduated in sixteenths.
    assert graduation_for("in") == SIXTEENTHS
    # Common practice, no source.
    assert graduation_for("mm") == ONE_MM


def test_rules_that_nobody_makes_are_refused() -> None:
    # NIST Handbook 44, 5.52: inch rules are divided into binary submultiples.
    with pytest.raises(MeasureError, match="no rule is divided into 1/10 in"):
        Graduation("in", Fraction(1, 10))


def test_exact_numbers_of_millimetres_are_decimals() -> None:
    assert write_number(mm("104.775"), "mm") == "104.775"
    assert write_number(mm("-0.05"), "mm") == "-0.05"
    assert write_number(Length(Fraction(400, 3)), "mm") == "133 1/3"
