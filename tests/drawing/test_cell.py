"""The shape of a cell as a terminal tells it: real pseudo-terminals, their sizes set by ioctl."""

import os
import pty
import struct
import subprocess
import sys
import termios
from fcntl import ioctl
from fractions import Fraction

import pytest

from tests.planning.projects import size
from workbench.drawing import canvas
from workbench.drawing.canvas import fit

_ASK = "from workbench.drawing.cell import cell_shape; print(cell_shape())"


def told(columns: int, rows: int, across: int, up: int) -> str:
    """What a program in a terminal of that size, in cells and in dots, takes a cell to be."""
    ours, its = pty.openpty()
    try:
        ioctl(its, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, across, up))
        subprocess.run([sys.executable, "-c", _ASK], stdout=its, check=True)
        return os.read(ours, 100).decode().strip()
    finally:
        os.close(ours)
        os.close(its)


def test_a_cell_has_the_shape_that_the_terminal_tells() -> None:
    assert told(80, 24, 80 * 8, 24 * 17) == "17/8"


@pytest.mark.parametrize("dots", [(0, 0), (80, 24), (80, 24 * 5)], ids=["none", "square", "mad"])
def test_a_cell_is_twice_as_tall_as_wide_where_nothing_sensible_is_told(
    dots: tuple[int, int],
) -> None:
    assert told(80, 24, *dots) == "2"


def test_where_there_is_no_terminal_a_cell_is_twice_as_tall_as_wide() -> None:
    done = subprocess.run([sys.executable, "-c", _ASK], capture_output=True, text=True, check=True)
    assert done.stdout == "2\n"


def test_a_square_is_square_in_dots_whatever_the_cell(monkeypatch: pytest.MonkeyPatch) -> None:
    for shape in (Fraction(3, 2), Fraction(2), Fraction(5, 2)):
        monkeypatch.setattr(canvas, "cell_shape", lambda shape=shape: shape)
        columns, rows = fit(size(6, 6, "in"), 200, 60)
        assert abs(columns - rows * shape) <= 1
