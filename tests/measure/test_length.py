import pickle
from fractions import Fraction
from functools import cache

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.measure.lengths import signed, ticks, units
from workbench.measure.length import ZERO, Length, MeasureError, Unit


def test_an_inch_is_25_4_mm() -> None:
    # International yard and pound agreement, 1 July 1959; NBS Circular 572, addendum, 1960.
    assert Length.of(1, "in").mm == Fraction("25.4")


@pytest.mark.parametrize(
    ("inches", "mm"), [("1/16", "1.5875"), ("1/8", "3.175"), ("1/4", "6.35"), ("1/2", "12.7")]
)
def test_binary_parts_of_an_inch(inches: str, mm: str) -> None:
    # Follows from 25.4 mm exactly (NBS Circular 572, addendum, 1960).
    assert Length.of(inches, "in") == Length.of(mm, "mm")


@cache
def default_registry() -> "pint.UnitRegistry[float]":
    return pint.UnitRegistry()


@settings(deadline=None)
@given(st.floats(0.001, 10_000))
def test_agrees_with_pints_own_default_registry(inches: float) -> None:
    # General library: pint's unit definitions, read by its ordinary registry in binary floats.
    expected = default_registry().Quantity(inches, "inch").to("millimetre").magnitude
    assert float(Length.of(Fraction(inches), "in").mm) == pytest.approx(expected, rel=1e-12)


def test_one_tick_carries_both_a_sixty_fourth_and_a_tenth_of_a_millimetre() -> None:
    # 25.4 mm / 64 = 127/320 mm, and 0.1 mm = 32/320 mm (computed).
    assert Length.of("1/64", "in").ticks == 127
    assert Length.of("0.1", "mm").ticks == 32


@given(ticks)
def test_ticks_come_back(n: int) -> None:
    assert Length.from_ticks(n).ticks == n


def test_a_length_between_ticks_says_so() -> None:
    with pytest.raises(MeasureError, match="finer than can be cut") as caught:
        _ = Length.of("1/3", "in").ticks
    assert str(caught.value) == f"{caught.value.what}; {caught.value.mend}"


@settings(deadline=None)
@given(signed, signed, st.integers(1, 50), units)
def test_arithmetic_is_exact(a: Length, b: Length, n: int, unit: Unit) -> None:
    assert (a + b) - b == a
    assert a * n / n == n * a / n == a
    assert -a + a == ZERO
    assert abs(a) == max(a, -a)
    assert bool(a) == (a != ZERO)
    assert (a < b) == (a.mm < b.mm)
    assert Length.of(a.number(unit), unit) == a
    assert Length.of(str(a.number(unit)), unit) == a
    assert not b or b * a.ratio(b) == a


def test_lengths_and_their_errors_travel_between_processes() -> None:
    length, error = Length.of("21/4", "in"), MeasureError("what", "mend")
    assert pickle.loads(pickle.dumps(length)) == length
    assert str(pickle.loads(pickle.dumps(error))) == "what; mend"


@pytest.mark.parametrize("text", ["", "5 1/4", "1/0", "1e9", "0x10", "1_000", " 5", "5 in", "nan"])
def test_exact_numbers_are_not_free_text(text: str) -> None:
    with pytest.raises(MeasureError, match="is not an exact number"):
        Length.of(text, "in")
