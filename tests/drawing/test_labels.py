"""Lengths on drawings are short, and say where they are not exact."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import inches, size
from workbench.drawing.labels import bare_size, write_border, write_exactly, write_short, write_size
from workbench.measure.length import UNITS, Length, Unit
from workbench.measure.reading import read_length


def test_a_length_beside_the_mark_is_said_to_be_near_it() -> None:
    assert write_short(inches("4 3/4"), "in") == "4 3/4"
    assert write_short(inches("4 3/4") + Length.of("1/64", "in"), "in") == "≈4 3/4"
    # A6 is 4 1/8 by 5 13/16 in to the nearest sixteenth (computed from ISO 216 and 25.4 mm).
    assert write_short(Length.of(105, "mm"), "in") == "≈4 1/8"
    assert write_short(Length.of(148, "mm"), "in") == "≈5 13/16"


def test_a_size_is_width_by_height() -> None:
    assert bare_size(size("4 3/4", "6 3/4"), "in") == "4 3/4 × 6 3/4"
    assert write_size(size("4 3/4", "6 3/4"), "in") == "4 3/4 × 6 3/4 in"


@given(st.fractions(0, 1000, max_denominator=640), st.sampled_from(UNITS))
def test_what_is_written_exactly_is_read_back_the_same(number: Fraction, unit: Unit) -> None:
    length = Length(number)
    assert read_length(write_exactly(length, unit), unit) == length


def test_half_a_millimetre_of_border_is_told() -> None:
    """Beside borders of 4 mm, one of 3.5 mm was told as ≈4, and doubted as uneven."""
    assert write_border(Length.of("3.5", "mm"), "mm") == "3.5"
    assert write_border(inches("3/32"), "in") == "3/32"
    assert write_border(inches("1/7"), "in") == "≈1/8"
