"""Writing lengths: to the rule's graduation, exactly, and as a project file holds them."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.measure.length import Length, MeasureError, Unit

_FINEST_INCH = 64
_STEPS: dict[Unit, tuple[Fraction, ...]] = {
    # Inch rules are divided into binary submultiples (NIST Handbook 44, 5.52).
    "in": tuple(Fraction(1, 2**power) for power in range(7)),
    "mm": (Fraction(1), Fraction(1, 2)),
}


@dataclass(frozen=True, slots=True)
class Graduation:
    """What one small division of a rule measures: `step` of `unit`.

    Raises MeasureError for other steps than 1 to 1/64 in (halved each time), 1 mm and 0.5 mm.
    """

    unit: Unit
    step: Fraction

    def __post_init__(self) -> None:
        if self.step not in _STEPS[self.unit]:
            raise MeasureError(
                f"no rule is divided into {self.step} {self.unit}",
                f"use one of {', '.join(str(step) for step in _STEPS[self.unit])} {self.unit}",
            )

    @property
    def interval(self) -> Length:
        return Length.of(self.step, self.unit)


SIXTEENTHS = Graduation("in", Fraction(1, 16))
HALF_MM = Graduation("mm", Fraction(1, 2))
ONE_MM = Graduation("mm", Fraction(1))


@dataclass(frozen=True, slots=True)
class Reading:
    """The nearest mark, and how far `off` it is: above ZERO, a piece cut there is too long."""

    mark: Length
    off: Length


@dataclass(frozen=True, slots=True)
class MixedNumber:
    """`whole` + `numerator` / `denominator`, the fraction at least 0, below 1, in lowest terms."""

    whole: int
    numerator: int
    denominator: int


def graduation_for(unit: Unit) -> Graduation:
    """The graduation of an ordinary rule: sixteenths (federal item description A-A-355B) or mm."""
    return SIXTEENTHS if unit == "in" else ONE_MM


def nearest_mark(length: Length, graduation: Graduation) -> Reading:
    """The graduation nearest to `length`; midway between two, the even one.

    Source: NIST Handbook 44, Appendix A, 10.3.
    """
    mark = graduation.interval * round(length.ratio(graduation.interval))
    return Reading(mark, mark - length)


def mixed_number(length: Length, unit: Unit) -> MixedNumber:
    """`length` as a whole number of `unit` and a fraction."""
    number = length.number(unit)
    whole, numerator = divmod(number.numerator, number.denominator)
    return MixedNumber(whole, numerator, number.denominator)


def write_number(length: Length, unit: Unit) -> str:
    """The bare number, exact: "5 1/4" in inches, "133.5" in mm where a decimal is exact."""
    if length.mm < 0:
        return "-" + write_number(-length, unit)
    if unit == "mm" and _ends(length.mm):
        return _decimal(length.mm)
    mixed = mixed_number(length, unit)
    if not mixed.numerator:
        return str(mixed.whole)
    fraction = f"{mixed.numerator}/{mixed.denominator}"
    return f"{mixed.whole} {fraction}" if mixed.whole else fraction


def write_length(length: Length, graduation: Graduation) -> str:
    """`length` as read on the rule: "5 1/4 in", "133.5 mm".

    Off the graduations, the nearest mark and what cutting there does: "≈ 4 1/8 in (0.2 mm too
    short)".
    """
    reading = nearest_mark(length, graduation)
    mark = f"{write_number(reading.mark, graduation.unit)} {graduation.unit}"
    if not reading.off:
        return mark
    return f"≈ {mark} ({_how_far(reading.off)})"


def write_exact(length: Length, unit: Unit) -> str:
    """The exact form of exported plans, read by `reading.read_exact`: "21/4 in", "105 mm"."""
    return f"{length.number(unit)} {unit}"


def write_file(length: Length, unit: Unit) -> str | int:
    """`length` as a project file in `unit` holds it, so that `read_length` gives it back.

    A whole number where it is one, else a clean fraction or decimal ("5 1/4", "133.5"), else the
    other unit if it is clean there ("133 mm"), else an exact number with its unit.
    """
    number = length.number(unit)
    if number.denominator == 1:
        return number.numerator
    if _is_clean(length, unit):
        return write_number(length, unit)
    other: Unit = "mm" if unit == "in" else "in"
    shown: Unit = other if _is_clean(length, other) else unit
    return f"{write_number(length, shown)} {shown}"


def _is_clean(length: Length, unit: Unit) -> bool:
    """Whether it is a number one would write: down to 1/64 in or 0.1 mm."""
    parts = _FINEST_INCH if unit == "in" else 10
    return (length.number(unit) * parts).denominator == 1


def _ends(number: Fraction) -> bool:
    """Whether its decimals come to an end."""
    rest = number.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def _decimal(number: Fraction) -> str:
    places = 0
    while number.denominator != 1:
        number *= 10
        places += 1
    digits = f"{number.numerator:0{places + 1}}"
    return f"{digits[:-places]}.{digits[-places:]}" if places else digits


def _how_far(off: Length) -> str:
    tenths = round(abs(off).mm * 10)
    size = f"{_decimal(Fraction(tenths, 10))} mm" if tenths else "less than 0.1 mm"
    return f"{size} too {'long' if off.mm > 0 else 'short'}"
