"""A printed page in characters: two points of it in every cell, one above the other."""

from io import BytesIO
from typing import TYPE_CHECKING

from workbench.drawing.canvas import Canvas, Cell

if TYPE_CHECKING:
    from PIL import Image


def draw_page(picture: bytes, columns: int, rows: int) -> Canvas:
    """The page of a PNG `picture`, as large as `columns` by `rows` allow.

    Cells are taken to be twice as high as they are wide.
    """
    from PIL import Image

    with Image.open(BytesIO(picture)) as image:
        width = min(columns, round(rows * 2 * image.width / image.height))
        height = max(2, 2 * round(width * image.height / image.width / 2))
        small = image.convert("RGB").resize((max(1, width), height), Image.Resampling.BOX)
    canvas = Canvas(small.width, small.height // 2)
    for y in range(canvas.height):
        canvas.put_row(0, y, [_cell(small, x, 2 * y) for x in range(small.width)])
    return canvas


def _cell(image: "Image.Image", x: int, y: int) -> Cell:
    upper, lower = (_hex(image.getpixel((x, y + below))) for below in (0, 1))
    return Cell("▀", upper, lower)


def _hex(colour: object) -> str:
    assert isinstance(colour, tuple)
    return "#" + "".join(f"{part:02x}" for part in colour)
