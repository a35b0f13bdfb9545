"""Writing lengths: to the rule's graduation, exactly, and as a project file holds them."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.measure.length import UNITS, Length, MeasureError, Unit
from workbench.measure.numerals import mixed, plain

_FILE_PARTS: dict[Unit, int] = {"in": 64, "mm": 10}
_MOST_BELOW_THE_LINE = 64
_FINEST_DECIMAL = 100


@dataclass(frozen=True, slots=True)
class _Line:
    """One length of line on a rule: how far apart, and how a single one is found by counting."""

    spacing: Fraction
    name: str = ""
    counted_from: Fraction | None = None


# Longest first. Inch rules are divided into binary submultiples (NIST Handbook 44, 5.52).
_LINES: dict[Unit, tuple[_Line, ...]] = {
    "in": (
        _Line(Fraction(1)),
        _Line(Fraction(1, 2)),
        _Line(Fraction(1, 4)),
        _Line(Fraction(1, 8)),
        _Line(Fraction(1, 16), "sixteenth", Fraction(1, 2)),
        _Line(Fraction(1, 32), "thirty-second", Fraction(1, 4)),
        _Line(Fraction(1, 64), "sixty-fourth", Fraction(1, 8)),
    ),
    "mm": (
        _Line(Fraction(10)),
        _Line(Fraction(5)),
        _Line(Fraction(1), "millimetre", Fraction(5)),
        _Line(Fraction(1, 2)),
    ),
}


@dataclass(frozen=True, slots=True)
class Graduation:
    """The division of a rule into equal parts.

    Attributes:
        unit: the unit of its numbers.
        step: the number of `unit` from one line to the next: 1, 1/2, ... 1/64 in (binary
            submultiples, NIST Handbook 44, 5.52), or 10, 5, 1 or 1/2 mm.

    Raises:
        MeasureError: for any other step.
    """

    unit: Unit
    step: Fraction

    def __post_init__(self) -> None:
        steps = [line.spacing for line in _LINES[self.unit]]
        if self.step not in steps:
            raise MeasureError(
                f"no rule is divided into {self.step} {self.unit}",
                f"use one of {', '.join(map(str, steps))} {self.unit}",
            )

    @property
    def interval(self) -> Length:
        """The length from one line to the next."""
        return Length.of(self.step, self.unit)

    def rank(self, mark: Length) -> int | None:
        """How long the line at `mark` is drawn: 0 for the longest, None where there is no line.

        Inches: 0 whole, 1 half, 2 quarter, 3 eighth, 4 sixteenth and so on. Millimetres: 0 at each
        10, 1 at 5, 2 at 1, 3 at 0.5.
        """
        number = mark.number(self.unit)
        for rank, line in enumerate(_LINES[self.unit]):
            if line.spacing < self.step:
                return None
            if (number / line.spacing).denominator == 1:
                return rank
        return None


SIXTEENTHS = Graduation("in", Fraction(1, 16))
HALF_MM = Graduation("mm", Fraction(1, 2))
ONE_MM = Graduation("mm", Fraction(1))


@dataclass(frozen=True, slots=True)
class Reading:
    """A length as read on a rule.

    Attributes:
        mark: the nearest line.
        off: `mark` less the length; above ZERO, a piece cut at the mark is too long.
    """

    mark: Length
    off: Length


def graduation_for(unit: Unit) -> Graduation:
    """The graduation of an ordinary rule: sixteenths (federal item description A-A-355B) or mm."""
    return SIXTEENTHS if unit == "in" else ONE_MM


def nearest_mark(length: Length, graduation: Graduation) -> Reading:
    """The line of the rule nearest to `length`; midway between two, the even one.

    Source: NIST Handbook 44, Appendix A, 10.3.
    """
    mark = graduation.interval * round(length.ratio(graduation.interval))
    return Reading(mark, mark - length)


def write_number(length: Length, unit: Unit) -> str:
    """The bare number, exact: "5 1/4" in inches, "133.5" in mm where a decimal is exact."""
    number = length.number(unit)
    return plain(number) if unit == "mm" else mixed(number)


def write_clean(length: Length, unit: Unit) -> str | None:
    """`length` exactly, with its unit: "1/3 in", "6.35 mm"; None where that takes long numbers."""
    number = length.number(unit)
    if unit == "in":
        short = number.denominator <= _MOST_BELOW_THE_LINE
    else:
        short = _FINEST_DECIMAL % number.denominator == 0
    return f"{write_number(length, unit)} {unit}" if short else None


def has_short_number(length: Length, unit: Unit) -> bool:
    """Whether `length` is exactly so many 1/64 in or 0.1 mm."""
    return (length.number(unit) * _FILE_PARTS[unit]).denominator == 1


def write_near(length: Length, unit: Unit) -> str:
    """`length` for a sentence: as `write_clean`, else the nearest 1/64 in or 0.1 mm after "about".

    A length that is nearest to zero is "a hair".
    """
    clean = write_clean(length, unit)
    if clean:
        return clean
    finest = Length.of(Fraction(1, _FILE_PARTS[unit]), unit)
    near = finest * round(length.ratio(finest))
    if not near:
        return f"a hair (less than {write_number(finest, unit)} {unit})"
    return f"about {write_number(near, unit)} {unit}"


def write_length(length: Length, graduation: Graduation) -> str:
    """`length` as read on the rule: "5 1/4 in", "133.5 mm".

    Off the graduations, the nearest mark and what cutting there does: "≈ 4 1/8 in (0.2 mm too
    short)".
    """
    reading = nearest_mark(length, graduation)
    mark = f"{write_number(reading.mark, graduation.unit)} {graduation.unit}"
    if not reading.off:
        return mark
    return f"≈ {mark} ({how_far(reading.off)})"


def write_exact(length: Length, unit: Unit) -> str:
    """The exact form of exported plans, read by `reading.read_exact`: "21/4 in", "105 mm"."""
    return f"{length.number(unit)} {unit}"


def write_file(length: Length, unit: Unit) -> str | int:
    """`length` as a project file in `unit` holds it, so that `read_length` gives it back.

    A whole number where it is one, else a fraction down to 1/64 in or a decimal down to 0.1 mm
    ("5 1/4", "133.5"), else the exact number with its unit, inches or mm, whichever is shorter
    ("133 mm" in a file of inches).
    """
    number = length.number(unit)
    if number.denominator == 1:
        return number.numerator
    if has_short_number(length, unit):
        return write_number(length, unit)
    return min((f"{write_number(length, shown)} {shown}" for shown in UNITS), key=len)


def where_on_rule(mark: Length, graduation: Graduation) -> str:
    """Where to look for `mark`, as said at the trimmer: "halfway between 3 and 3 1/4".

    A numbered line by its number, a middling one by the longer lines on both sides, and a small
    one counted from the nearest longer line. A mark off the graduations lies between two lines.
    """
    unit = graduation.unit
    rank = graduation.rank(mark)
    if rank is None:
        return _between_lines(mark, graduation)
    if rank == 0:
        return f"on the {write_number(mark, unit)} {unit} line"
    line = _LINES[unit][rank]
    if line.counted_from is None:
        beside = Length.of(line.spacing, unit)
        return f"halfway between {_named(unit, mark - beside, mark + beside)}"
    start = nearest_mark(mark, Graduation(unit, line.counted_from)).mark
    return f"{_counted(mark - start, line, graduation)} {_named(unit, start)}"


def _between_lines(mark: Length, graduation: Graduation) -> str:
    unit, interval = graduation.unit, graduation.interval
    nearest = nearest_mark(mark, graduation)
    below = nearest.mark if nearest.off.mm < 0 else nearest.mark - interval
    both = _named(unit, below, below + interval)
    if abs(nearest.off) * 2 == interval:
        return f"halfway between {both}"
    return f"between {both}, nearer {write_number(nearest.mark, unit)}"


def _counted(way: Length, line: _Line, graduation: Graduation) -> str:
    lines = abs(way).number(graduation.unit) / line.spacing
    plural = "" if lines == 1 else "s"
    kind = "" if line.spacing == graduation.step == 1 else f" ({line.name}{plural})"
    return f"{lines} small line{plural}{kind} {'past' if way.mm > 0 else 'before'}"


def _named(unit: Unit, *marks: Length) -> str:
    # The numbers on an inch rule need no unit beside them at the trimmer; millimetres do.
    numbers = " and ".join(write_number(mark, unit) for mark in marks)
    return f"{numbers} mm" if unit == "mm" else numbers


def how_far(off: Length) -> str:
    """The error of a mark in words, "0.2 mm too short"; `off` above ZERO is too long."""
    tenths = round(abs(off).mm * 10)
    size = f"{plain(Fraction(tenths, 10))} mm" if tenths else "less than 0.1 mm"
    return f"{size} too {'long' if off.mm > 0 else 'short'}"
