"""Lengths and sizes as short as a drawing or a table needs them."""

from functools import lru_cache

from workbench.craft.paper import Size
from workbench.measure.length import Length, Unit
from workbench.measure.writing import (
    graduation_for,
    has_short_number,
    nearest_mark,
    write_file,
    write_number,
)


@lru_cache(4096)  # a sheet is laid out several times until its words fit
def write_short(length: Length, unit: Unit) -> str:
    """The nearest mark of an ordinary rule as a bare number, after "≈" where that is not exact."""
    reading = nearest_mark(length, graduation_for(unit))
    return f"{'≈' if reading.off else ''}{write_number(reading.mark, unit)}"


def write_border(border: Length, unit: Unit) -> str:
    """As `write_short`, but exact where 1/64 in or 0.1 mm says it: rounded halves look uneven."""
    if has_short_number(border, unit):
        return write_number(border, unit)
    return write_short(border, unit)


def bare_size(size: Size, unit: Unit) -> str:
    """Width and height without their unit, "4 3/4 × 6 3/4"."""
    return f"{write_short(size.width, unit)} × {write_short(size.height, unit)}"


def write_size(size: Size, unit: Unit) -> str:
    """Width and height with their unit, "4 3/4 × 6 3/4 in"."""
    return f"{bare_size(size, unit)} {unit}"


def write_exactly(length: Length, unit: Unit) -> str:
    """`length` exactly, as `read_length` reads it in `unit`: a bare number, or with its unit."""
    return str(write_file(length, unit))
