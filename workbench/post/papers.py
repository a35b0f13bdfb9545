"""What one sheet of a paper weighs and how thick it is, or what it is likely to be."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from workbench.craft.paper import Paper, PaperKind
from workbench.measure.length import MeasureError
from workbench.measure.numerals import plain
from workbench.measure.ranges import Range
from workbench.measure.weights import (
    read_thickness,
    read_weight,
    write_gsm,
    write_millimetres,
    write_thousandths,
)

# Grams a square metre where nothing is known. Common practice, no source.
_LIKELY_GSM: dict[PaperKind, Range] = {
    "patterned": Range(Fraction(90), Fraction(180)),
    "cardstock": Range(Fraction(175), Fraction(300)),
    "vellum": Range(Fraction(90), Fraction(150)),
    "other": Range(Fraction(75), Fraction(350)),
}
# Millimetres for each gram a square metre: the least (tag, 405 g/m2 in 0.45 mm) and the most
# (text, 105 g/m2 in 0.140 mm) of the papers of GPO/JCP, Government Paper Specification Standards
# (1999): A91, O-63, K10 and P20.
_LIKELY_BULK = Range(Fraction("0.45") / 405, Fraction("0.140") / 105)
_SHEETS_TO_MEASURE = 10


@dataclass(frozen=True, slots=True)
class Missing:
    """A figure that nobody has given, in words.

    Attributes:
        paper: the name of the paper.
        what: which figure of it.
        likely: what it is likely to be, with its unit.
        measure: what to do to find it out.
    """

    paper: str
    what: Literal["weight", "thickness"]
    likely: str
    measure: str

    def __str__(self) -> str:
        return f'the {self.what} of "{self.paper}" is not known (likely {self.likely})'


@dataclass(frozen=True, slots=True)
class SheetFigures:
    """One sheet: grams a square metre, millimetres, and what of them is only likely."""

    gsm: Range
    mm: Range
    missing: tuple[Missing, ...] = ()


def sheet_figures(paper: Paper) -> SheetFigures:
    """What the packet says of `paper`; what it does not say as the range that is likely.

    Weight and thickness go together, so the one that is known narrows the other.
    """
    gsm, mm = _noted_gsm(paper), _noted_mm(paper)
    missing = []
    if gsm is None:
        gsm = _likely_gsm(mm) if mm else _LIKELY_GSM[paper.kind]
        missing.append(Missing(paper.name, "weight", write_gsm(gsm), how_to_weigh(paper)))
    if mm is None:
        mm = likely_mm(gsm)
        likely = f"{write_millimetres(mm)}, {write_thousandths(mm)}"
        missing.append(Missing(paper.name, "thickness", likely, HOW_TO_MEASURE))
    return SheetFigures(gsm, mm, tuple(missing))


HOW_TO_MEASURE = (
    f"press {_SHEETS_TO_MEASURE} sheets together, measure how thick they are, divide by "
    f"{_SHEETS_TO_MEASURE}"
)


def how_to_weigh(paper: Paper) -> str:
    """What to weigh and what to do with the figure, for sheets of this size."""
    square_metres = paper.size.area / 1_000_000
    times = Fraction(round(100 / (square_metres * _SHEETS_TO_MEASURE)), 100)
    return (
        f"weigh {_SHEETS_TO_MEASURE} whole sheets in grams and multiply by {plain(times)}: that "
        "is grams a square metre"
    )


def likely_mm(gsm: Range) -> Range:
    """How thick a paper of that weight may be, in millimetres."""
    return Range(gsm.low * _LIKELY_BULK.low, gsm.high * _LIKELY_BULK.high)


def _likely_gsm(mm: Range) -> Range:
    return Range(mm.low / _LIKELY_BULK.high, mm.high / _LIKELY_BULK.low)


def _noted_gsm(paper: Paper) -> Range | None:
    """None too where the note cannot be read, which a file never lets by."""
    try:
        return Range.exactly(read_weight(paper.weight).gsm) if paper.weight else None
    except MeasureError:
        return None


def _noted_mm(paper: Paper) -> Range | None:
    try:
        return Range.exactly(read_thickness(paper.thickness).length.mm) if paper.thickness else None
    except MeasureError:
        return None
