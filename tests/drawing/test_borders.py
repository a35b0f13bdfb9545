"""Borders in figures on the picture of a card."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.craft.extent import Borders
from workbench.drawing.borders import write_borders
from workbench.drawing.canvas import Box, Canvas
from workbench.measure.length import Length

BORDERS = Borders(*(Length.of(number, "mm") for number in (7, 13, 11, 17)))


def written(piece: Box, width: int = 40, height: int = 16) -> list[str]:
    canvas = Canvas(width, height)
    write_borders(canvas, piece, BORDERS, "mm")
    return canvas.lines()


def test_each_stands_at_the_edge_it_belongs_to() -> None:
    piece = Box(4, 3, 30, 10)
    rows = written(piece)
    middle = rows[piece.y + piece.height // 2]
    assert middle[piece.x :].startswith(f"←{BORDERS.left.mm}")
    assert middle[: piece.right + 1].endswith(f"{BORDERS.right.mm}→")
    assert f"↑{BORDERS.top.mm}" in rows[piece.y]
    assert f"↓{BORDERS.bottom.mm}" in rows[piece.bottom]


@settings(max_examples=examples(20))
@given(*[st.integers(-3, 20)] * 2, *[st.integers(1, 24)] * 2)
def test_no_figure_is_written_over_another(x: int, y: int, width: int, height: int) -> None:
    text = "".join(written(Box(x, y, width, height), 24, 12))
    for arrow, length in zip("←→↑↓", (7, 11, 17, 13), strict=True):
        if arrow in text:
            assert (f"{length}→" if arrow == "→" else f"{arrow}{length}") in text


def test_none_is_written_where_there_is_no_row() -> None:
    assert not "".join(written(Box(0, 50, 5, 2))).strip()


@pytest.mark.parametrize("columns", [1, 2])
def test_a_picture_too_narrow_for_figures_does_no_harm(columns: int) -> None:
    assert len(written(Box(0, 0, columns, 3), columns, 3)) == 3
