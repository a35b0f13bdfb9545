"""How heavy and how thick paper is, as packets say it.

Weight in grams a square metre is what ISO 536 and TAPPI T 410 measure, the thickness of a single
sheet what ISO 534 and TAPPI T 411 measure. Neither follows from the other.
"""

from dataclasses import dataclass
from fractions import Fraction

from workbench.measure.length import ZERO, Length, MeasureError
from workbench.measure.numerals import plain, quoted, read_amount
from workbench.measure.ranges import Range
from workbench.measure.reading import UNIT_WORDS
from workbench.measure.units import factor, per

# Inches of the basic size of each grade, of which 500 sheets weigh the pounds (printwiki,
# "Grammage"; the two measures are defined by TAPPI T 410 and ISO 536).
BASIC_SIZES: dict[str, tuple[Fraction, Fraction]] = {
    "bond": (Fraction(17), Fraction(22)),
    "bristol": (Fraction(45, 2), Fraction(57, 2)),
    "cover": (Fraction(20), Fraction(26)),
    "index": (Fraction(51, 2), Fraction(61, 2)),
    "tag": (Fraction(24), Fraction(36)),
    "text": (Fraction(25), Fraction(38)),
}
_SHEETS_WEIGHED = 500
# Bounds to catch slips (common practice, no source): no card is made of anything heavier.
HEAVIEST_GSM = 3000
THICKEST = Length(Fraction(10))
_GRADES = ", ".join(BASIC_SIZES)
_WEIGHTS = "300 gsm or 110 lb cover"
_THICKNESSES = "14 pt, 0.36 mm or 0.014 in"
_METRIC = ("gsm", "g/m2", "g/m²", "g/m^2")
_POUNDS = ("lb", "lbs", "lb.", "#")
# A paper maker's point is a thousandth of an inch; pint's own "point" is the typesetter's.
_POINT = "thou"
_POINT_WORDS = ("pt", "pts", "point", "points")


@dataclass(frozen=True, slots=True)
class Weight:
    """The weight of a paper.

    Attributes:
        gsm: exact grams a square metre.
        text: how it was said, tidied: "300 gsm", "65 lb cover".
    """

    gsm: Fraction
    text: str


@dataclass(frozen=True, slots=True)
class Thickness:
    """The thickness of one sheet.

    Attributes:
        length: the exact thickness.
        text: how it was said, tidied: "14 pt", "0.36 mm".
    """

    length: Length
    text: str


def read_weight(text: str) -> Weight:
    """Read a paper's weight: "300 gsm", "300 g/m2", "110 lb cover", "65lb Cover".

    Pounds are those of 500 sheets of the grade's basic size, so they need a grade: bond, bristol,
    cover, index, tag or text.

    Raises:
        MeasureError: where it is none of these, or not above 0 and at most `HEAVIEST_GSM`.
    """
    number, rest = read_amount(text, _WEIGHTS)
    if rest in _METRIC:
        return _possible_weight(Weight(number, f"{plain(number)} gsm"), text)
    pounds, _, grade = rest.replace("#", "# ").partition(" ")
    if pounds not in _POUNDS:
        raise MeasureError(
            f"{quoted(text)} does not say what its number counts", f"write it as in {_WEIGHTS}"
        )
    return _possible_weight(_pounds(number, grade.strip(), text), text)


def read_thickness(text: str) -> Thickness:
    """Read the thickness of one sheet: "14 pt" (thousandths of an inch), "0.36 mm", "0.014 in".

    Raises:
        MeasureError: where it is none of these, or not above 0 and at most `THICKEST`.
    """
    number, rest = read_amount(text, _THICKNESSES)
    unit = "pt" if rest in _POINT_WORDS else UNIT_WORDS.get(rest)
    if unit is None:
        raise MeasureError(
            f"{quoted(text)} does not end in pt, mm or in", f"write it as in {_THICKNESSES}"
        )
    length = Length(number * per(_POINT if unit == "pt" else unit))
    if not ZERO < length <= THICKEST:
        raise MeasureError(
            f"{quoted(text)} is not the thickness of a sheet of paper",
            "give more than 0 and at most 10 mm",
        )
    return Thickness(length, f"{plain(number)} {unit}")


def write_gsm(gsm: Range) -> str:
    """Grams a square metre, rounded: "298 gsm", "90 to 180 gsm"."""
    return f"{_ends(gsm, 1)} gsm"


def write_millimetres(mm: Range) -> str:
    """A thickness in millimetres, to a hundredth: "0.36 mm", "1.2 to 1.52 mm"."""
    return f"{_ends(mm, 100)} mm"


def write_thousandths(mm: Range) -> str:
    """A thickness in inches, to a thousandth (a paper maker's point): "0.014 in"."""
    inch = per("in")
    return f"{_ends(Range(mm.low / inch, mm.high / inch), 1000)} in"


def _ends(range_: Range, parts: int) -> str:
    low, high = (plain(Fraction(round(end * parts), parts)) for end in (range_.low, range_.high))
    return low if low == high else f"{low} to {high}"


def _gsm_per_pound(grade: str) -> Fraction:
    width, height = BASIC_SIZES[grade]
    return factor("lb/in**2", "g/m**2") / (_SHEETS_WEIGHED * width * height)


def _pounds(number: Fraction, grade: str, text: str) -> Weight:
    if grade not in BASIC_SIZES:
        wrong = f"has no grade called {quoted(grade)}" if grade else "needs its grade"
        raise MeasureError(
            f"{quoted(text)} {wrong}",
            f"write one of {_GRADES} after lb: 110 lb index is far lighter than 110 lb cover",
        )
    return Weight(number * _gsm_per_pound(grade), f"{plain(number)} lb {grade}")


def _possible_weight(weight: Weight, text: str) -> Weight:
    if not 0 < weight.gsm <= HEAVIEST_GSM:
        raise MeasureError(
            f"{quoted(text)} is not the weight of any paper",
            f"give more than 0 and at most {HEAVIEST_GSM} gsm",
        )
    return weight
