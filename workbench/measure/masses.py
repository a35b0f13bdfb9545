"""What a whole thing weighs, in grams and ounces: reading and writing it."""

from fractions import Fraction

from workbench.measure.length import MeasureError
from workbench.measure.numerals import plain, quoted, read_amount
from workbench.measure.ranges import Range
from workbench.measure.units import factor

# A bound to catch slips: the heaviest thing of any letter post (UPU letters: 2 kg).
HEAVIEST_GRAMS = 2000
_EXAMPLES = "0.4 g, 12 g or 0.5 oz"
_UNIT_WORDS = {
    **dict.fromkeys(("g", "gram", "grams", "gramme", "grammes"), "g"),
    **dict.fromkeys(("oz", "oz.", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), "kg"),
}
# Shown to so many places; a kitchen scale shows fewer.
_PLACES = {"g": 1, "oz": 2}


def read_grams(text: str) -> Fraction:
    """Read what a thing weighs as people write it: "0.4 g", "12 g", "0.5 oz".

    Returns:
        The exact number of grams.

    Raises:
        MeasureError: for anything else, for less than nothing, and for more than 2 kg.
    """
    number, rest = read_amount(text, _EXAMPLES)
    unit = _UNIT_WORDS.get(rest)
    if unit is None:
        raise MeasureError(f"{quoted(text)} does not end in g or oz", f"write it as in {_EXAMPLES}")
    grams = number if unit == "g" else number * factor(unit, "g")
    if grams > HEAVIEST_GRAMS:
        raise MeasureError(
            f"{quoted(text)} is more than any letter weighs", f"give at most {HEAVIEST_GRAMS} g"
        )
    return grams


def write_grams(grams: Range, unit: str) -> str:
    """A weight in "g" or "oz", rounded: "12.3 g", "0.43 oz", "12.3 to 14 g" where it is a range."""
    places = _PLACES[unit]
    ends = [_rounded(end / factor(unit, "g"), places) for end in (grams.low, grams.high)]
    return f"{ends[0] if ends[0] == ends[1] else ' to '.join(ends)} {unit}"


def _rounded(number: Fraction, places: int) -> str:
    return plain(Fraction(round(number * 10**places), 10**places))
