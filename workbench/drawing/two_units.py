"""Lengths in inches and in millimetres side by side, the reader's unit first."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.paper import Size
from workbench.measure.length import Length, Unit
from workbench.measure.numerals import plain
from workbench.measure.writing import graduation_for, nearest_mark, write_number

# What a rule of that unit can still show: half a sixteenth, half a millimetre.
_READABLE = {"in": Fraction(1, 32), "mm": Fraction(1, 2)}


@dataclass(frozen=True, slots=True)
class TwoUnits:
    """Writes lengths in the unit that comes `first`, and in the other one."""

    first: Unit

    @property
    def second(self) -> Unit:
        """The unit written second, in brackets."""
        return "mm" if self.first == "in" else "in"

    def lead(self, length: Length) -> str:
        """`length` in the first unit, "4 3/4 in"."""
        return f"{number(length, self.first)} {self.first}"

    def other(self, length: Length) -> str:
        """`length` in the second unit, "120.7 mm"."""
        return f"{number(length, self.second)} {self.second}"

    def both(self, length: Length) -> str:
        """`length` in both, "4 3/4 in (120.7 mm)"."""
        return f"{self.lead(length)} ({self.other(length)})"

    def lead_size(self, size: Size) -> str:
        """Width and height in the first unit, "4 3/4 × 6 3/4 in"."""
        return _size(size, self.first)

    def other_size(self, size: Size) -> str:
        """Width and height in the second unit."""
        return _size(size, self.second)

    def both_sizes(self, size: Size) -> str:
        """Width and height in both units."""
        return f"{self.lead_size(size)} ({self.other_size(size)})"


def number(length: Length, unit: Unit) -> str:
    """The bare number that a rule of `unit` can show.

    Exact down to 1/32 in or 0.5 mm; else the nearest sixteenth with "≈" before it, or the nearest
    tenth of a millimetre.
    """
    if (length.number(unit) / _READABLE[unit]).denominator == 1:
        return write_number(length, unit)
    if unit == "mm":
        return plain(Fraction(round(length.mm * 10), 10))
    return f"≈ {write_number(nearest_mark(length, graduation_for(unit)).mark, unit)}"


def _size(size: Size, unit: Unit) -> str:
    numbers = [number(side, unit) for side in (size.width, size.height)]
    near = "≈ " if any(each.startswith("≈") for each in numbers) else ""
    across, up = (each.removeprefix("≈ ") for each in numbers)
    return f"{near}{across} × {up} {unit}"
