"""The proportions of a character cell, which depend on the terminal and its typeface."""

import struct
import sys
from fractions import Fraction
from functools import cache

TWICE = Fraction(2)
# Beyond these a terminal has told something else than its letters' size.
_SQUAT, _SLENDER = Fraction(6, 5), Fraction(3)


@cache
def cell_shape() -> Fraction:
    """How many times as tall as wide a cell is; 2 where the terminal does not tell.

    The terminal is asked once, as a larger typeface has the same shape: TIOCGWINSZ gives its size
    in characters and in pixels (ioctl_tty(2)).
    """
    try:
        import fcntl
        import termios

        told = fcntl.ioctl(sys.__stdout__, termios.TIOCGWINSZ, bytes(8))  # type: ignore[arg-type]
    except (ImportError, OSError, ValueError, TypeError):  # no terminal, or none of this kind
        return TWICE
    rows, columns, across, up = struct.unpack("HHHH", told)
    if not (rows and columns and across and up):
        return TWICE
    shape = Fraction(up * columns, across * rows)
    return shape if _SQUAT <= shape <= _SLENDER else TWICE
