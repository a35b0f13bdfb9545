"""Reading the lengths that people write, and the exact form that plans are exported in."""

import math
import re
from fractions import Fraction

from workbench.measure.length import ZERO, Length, MeasureError, Unit
from workbench.measure.numerals import fine_enough, quoted, read_amount
from workbench.measure.units import per

LONGEST = Length(Fraction(100_000))
_EXAMPLES = "5 1/4, 5.25 in or 133 mm"
UNIT_WORDS = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”", "“", "''", "′′"), "in"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
}
_EXACT = re.compile(r"(-?[0-9]+(?:/0*[1-9][0-9]*)?) (in|mm)")


def read_length(value: str | int | float, unit: Unit) -> Length:
    """Read a length as people write it: `5 1/4`, `5-1/4"`, `5¼`, `5.25 in`, `13.3 cm`, `133,5 mm`.

    Args:
        value: the length; a number, as a file may hold it, is a number of `unit`, and a float
            stands for the shortest decimal that it prints as, so 5.1 is 51/10 exactly.
        unit: what a bare number counts.

    Raises:
        MeasureError: for anything else, for less than zero, for more than 100 m, and for what is
            so fine that it could not be written again.
    """
    if not isinstance(value, str):
        return _possible(Length(_number(value) * per(unit)), "the number")
    number, suffix = read_amount(value, _EXAMPLES)
    if suffix and suffix not in UNIT_WORDS:
        raise MeasureError(
            f"{quoted(value)} ends in {quoted(suffix)}, which is no unit of length here",
            f"give one length, as in {_EXAMPLES}",
        )
    return _possible(Length(number * per(UNIT_WORDS.get(suffix, unit))), quoted(value))


def read_exact(text: str) -> Length:
    """Read the exact form that `writing.write_exact` writes: "21/4 in", "5 in", "105 mm".

    Raises:
        MeasureError: for anything else.
    """
    match = _EXACT.fullmatch(text)
    if match is None or len(text) > 1000:
        raise MeasureError(
            f"{quoted(text)} is not an exact length", 'write it as "21/4 in", "5 in" or "105 mm"'
        )
    return Length(Fraction(match[1]) * per(match[2]))


def _number(value: float) -> Fraction:
    if type(value) is int:  # and not True
        return Fraction(value)
    if not isinstance(value, float) or not math.isfinite(value):
        raise MeasureError(f"{quoted(str(value))} is not a length", f"write it as in {_EXAMPLES}")
    return fine_enough(Fraction(repr(value)), str(value))


def _possible(length: Length, shown: str) -> Length:
    if length < ZERO:
        raise MeasureError(f"{shown} is less than nothing", "leave out the minus sign")
    if length > LONGEST:
        raise MeasureError(f"{shown} is longer than 100 m", "check the number and its unit")
    return length
