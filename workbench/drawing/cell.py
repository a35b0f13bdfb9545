"""The shape of a character cell, which every terminal and typeface has its own of."""

import struct
import sys
from fractions import Fraction
from functools import cache

TWICE = Fraction(2)
# Beyond these a terminal has told something else than its letters' size.
_SQUAT, _SLENDER = Fraction(6, 5), Fraction(3)


@cache
def cell_shape() -> Fraction:
    """How many times as tall as wide it is; twice, where the terminal does not say (ioctl_tty(2)).

    Asked once: a larger typeface has the same shape.
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
