"""The length: an exact rational number of millimetres.

Binary floats never hold a length; a whole number of ticks, for the solver, is taken from it last.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Self, get_args

from workbench.measure.units import per

Unit = Literal["in", "mm"]

UNITS: tuple[Unit, ...] = get_args(Unit)
TICKS_PER_MM = 320
_RATIONAL = re.compile(r"-?[0-9]{1,400}(/0*[1-9][0-9]{0,399}|\.[0-9]{1,400})?")


class MeasureError(ValueError):
    """Raised for a length, weight or thickness that cannot be used.

    Attributes:
        what: what is wrong with it.
        mend: what to write instead.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(what, mend)
        self.what = what
        self.mend = mend

    def __str__(self) -> str:
        return f"{self.what}; {self.mend}"


@dataclass(frozen=True, order=True, slots=True)
class Length:
    """An exact length; it may be negative or zero.

    Lengths add, compare and sort; they are multiplied and divided by exact numbers. A length that
    is not zero is true.

    Attributes:
        mm: the number of millimetres.
    """

    mm: Fraction

    @classmethod
    def of(cls, value: int | Fraction | str, unit: Unit) -> Self:
        """Make a length of an exact number: 5, Fraction(21, 4), "21/4" or "5.25".

        Args:
            value: the number; what people write is read by `reading.read_length` instead.
            unit: what the number counts.

        Raises:
            MeasureError: for text that is no such number.
        """
        if isinstance(value, str) and not _RATIONAL.fullmatch(value):
            raise MeasureError(f"{value!r} is not an exact number", 'write it as "21/4" or "5.25"')
        return cls(Fraction(value) * per(unit))

    @classmethod
    def from_ticks(cls, n: int) -> Self:
        """Make a length of `n` ticks of 1/320 mm."""
        return cls(Fraction(n, TICKS_PER_MM))

    @property
    def inches(self) -> Fraction:
        """The number of inches."""
        return self.mm / per("in")

    @property
    def ticks(self) -> int:
        """The number of ticks of 1/320 mm, which carry both 1/64 in (127) and 0.1 mm (32).

        Raises:
            MeasureError: for a length between two ticks.
        """
        ticks = self.mm * TICKS_PER_MM
        if ticks.denominator != 1:
            raise MeasureError(
                f"{self.mm} mm is finer than can be cut",
                "use a multiple of 1/64 in or of 0.1 mm",
            )
        return ticks.numerator

    def number(self, unit: Unit) -> Fraction:
        """The number of `unit` that it measures."""
        return self.mm / per(unit)

    def ratio(self, other: "Length") -> Fraction:
        """How many times `other` goes into it.

        Raises:
            ZeroDivisionError: when `other` is ZERO.
        """
        return self.mm / other.mm

    def __add__(self, other: "Length") -> "Length":
        return Length(self.mm + other.mm)

    def __sub__(self, other: "Length") -> "Length":
        return Length(self.mm - other.mm)

    def __mul__(self, times: int | Fraction) -> "Length":
        return Length(self.mm * times)

    __rmul__ = __mul__

    def __truediv__(self, parts: int | Fraction) -> "Length":
        return Length(self.mm / parts)

    def __neg__(self) -> "Length":
        return Length(-self.mm)

    def __abs__(self) -> "Length":
        return Length(abs(self.mm))

    def __bool__(self) -> bool:
        return self.mm != 0


ZERO = Length(Fraction(0))
