from fractions import Fraction
from typing import Any

import pint
import pytest

from workbench.measure.length import MeasureError
from workbench.measure.masses import read_grams, write_grams
from workbench.measure.ranges import Range
from workbench.measure.units import factor


def test_an_ounce_is_what_pint_says() -> None:
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(non_int_type=Fraction)
    assert factor("oz", "g") == registry.Quantity(Fraction(1), "oz").to("g").magnitude


# 1 oz = 1/16 lb, 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("0.4 g", "0.4"),
        ("12g", "12"),
        ("0,5 g", "0.5"),
        ("1 oz", "28.349523125"),
        ("1/2 ounce", "14.1747615625"),
        ("0 g", "0"),
        ("1 kg", "1000"),
    ],
)
def test_weights_as_people_write_them(text: str, grams: str) -> None:
    assert read_grams(text) == Fraction(grams)


@pytest.mark.parametrize("text", ["", "-1 g", "4", "4 lb", "g", "3 kg", "1e3 g", "heavy"])
def test_what_is_no_weight_is_refused_in_words(text: str) -> None:
    with pytest.raises(MeasureError) as error:
        read_grams(text)
    assert error.value.mend


def test_weights_are_written_in_either_system() -> None:
    assert write_grams(Range.exactly(Fraction("28.349523125")), "oz") == "1 oz"
    assert write_grams(Range(Fraction("12.34"), Fraction("14")), "g") == "12.3 to 14 g"
