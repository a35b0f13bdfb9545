"""The borders around a piece, written in figures on the picture of its card."""

from collections.abc import Iterator

from workbench.craft.extent import Borders
from workbench.drawing.canvas import Box, Canvas, Cell
from workbench.drawing.labels import write_border
from workbench.measure.length import Unit

_CHIP = Cell(ink="#1c1c1c", ground="#ffffff", bold=True)


def write_borders(canvas: Canvas, piece: Box, borders: Borders, unit: Unit) -> None:
    """Write each border just inside the edge of the piece that it belongs to, with an arrow.

    One that has no room beside the others is left out.

    Args:
        canvas: the picture of the card, which is drawn on.
        piece: the cells that the piece covers.
        borders: its borders on what it is glued to.
        unit: what the figures count; each is exact where 1/64 in or 0.1 mm says it.
    """
    taken: list[Box] = []
    for words, places in _labels(piece, borders, unit):
        for x, y in places:
            chip = Box(min(max(x, 0), max(0, canvas.width - len(words))), y, len(words), 1)
            if 0 <= y < canvas.height and not any(_meet(chip, other) for other in taken):
                canvas.text(chip.x, chip.y, words, _CHIP)
                taken.append(chip)
                break


def _labels(
    piece: Box, borders: Borders, unit: Unit
) -> Iterator[tuple[str, list[tuple[int, int]]]]:
    """The words of each border, and the places to try for them."""
    left, right, below, above = (
        write_border(border, unit)
        for border in (borders.left, borders.right, borders.bottom, borders.top)
    )
    middle = piece.y + piece.height // 2
    rows = (middle, middle + 1, middle - 1)
    yield f"←{left}", [(piece.x, y) for y in rows]
    yield f"{right}→", [(piece.right - len(right), y) for y in rows]
    centre = piece.x + piece.width // 2
    yield f"↑{above}", [(centre - len(above) // 2, y) for y in (piece.y, piece.y - 1)]
    yield f"↓{below}", [(centre - len(below) // 2, y) for y in (piece.bottom, piece.bottom + 1)]


def _meet(one: Box, other: Box) -> bool:
    return one.y == other.y and one.x <= other.right and other.x <= one.right
