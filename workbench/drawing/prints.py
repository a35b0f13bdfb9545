"""How the print of a paper is drawn in characters that can be told apart without their colours."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from hashlib import blake2b
from typing import NamedTuple

from workbench.craft.contrast import contrast
from workbench.craft.paper import Paper
from workbench.drawing.canvas import Box, Canvas, Cell

_UNPRINTED = {
    "patterned": "#e6ded0",
    "cardstock": "#e9e5dc",
    "vellum": "#edf1f2",
    "other": "#d9d7d2",
}
_DARK, _LIGHT = "#1c1c1c", "#f4f4f4"
_WORDS = "with love and thanks, yours ever, "
_SPECKS = "·  .   '   ˙ ,  "
_TILE_MARKS = " ╱╲╳+×~≈=≡^∨∧-·:∴∵◦○◇△▽□┼┬┴├┤│*°"


class Colours(NamedTuple):
    """The inks of a print in the order of its file, and the ground they lie on."""

    inks: tuple[str, ...]
    ground: str


def colours(paper: Paper) -> Colours:
    """The colours that `paper` is drawn in: its own, or quiet ones of ours where it names none."""
    ground = paper.colours[-1] if paper.colours else _UNPRINTED[paper.kind]
    return Colours(paper.colours[:-1] or (_shade(ground),), ground)


def outline(paper: Paper) -> str:
    """The colour "#rrggbb", dark or light, that contrasts most with the ground of `paper`."""
    return _standing_out(colours(paper).ground)


def fill_print(canvas: Canvas, box: Box, paper: Paper, *, dim: bool = False) -> None:
    """Cover `box` with the print of `paper`, upright; it begins anew at the top left of the box."""
    mark_at, ink_at = _PRINTS.get(paper.print) or _tile(paper.print)
    inks, ground = colours(paper)
    # Cells are shared: making each anew takes most of the time that a card takes to draw.
    made: dict[tuple[str, str], Cell] = {}
    for y in range(box.height):
        looks = [(mark_at(x, y), inks[ink_at(x, y) % len(inks)]) for x in range(box.width)]
        for look in set(looks).difference(made):
            made[look] = Cell(*look, ground, dim=dim)
        canvas.put_row(box.x, box.y + y, [made[look] for look in looks])


def swatch(paper: Paper, width: int, height: int) -> Canvas:
    """A canvas of `width` by `height` cells covered with the print of `paper`."""
    canvas = Canvas(width, height)
    fill_print(canvas, Box(0, 0, width, height), paper)
    return canvas


def _solid(x: int, y: int) -> str:
    del x, y
    return " "


def _stripe(x: int, y: int) -> str:
    del x, y
    return "▌"


def _dot(x: int, y: int) -> str:
    return "●" if (x + 2 * y) % 4 == 0 else " "


def _check(x: int, y: int) -> str:
    del y
    return "▀" if x % 2 else "▄"


def _floral(x: int, y: int) -> str:
    return "✿" if (x + 3 * y) % 6 == 0 else "," if (x + 3 * y) % 6 == 2 else " "


def _text(x: int, y: int) -> str:
    return _WORDS[(x + 11 * y) % len(_WORDS)]


def _scallop(x: int, y: int) -> str:
    del x, y
    return "◠"


def _speckle(x: int, y: int) -> str:
    return _SPECKS[(x + 7 * y + y * y) % len(_SPECKS)]


class _Print(NamedTuple):
    """The mark in each cell, and the number of its ink; inks are taken in turns."""

    mark: Callable[[int, int], str]
    ink: Callable[[int, int], int]


_PRINTS: Mapping[str, _Print] = {
    "solid": _Print(_solid, lambda x, y: 0),
    "stripe": _Print(_stripe, lambda x, y: x),
    "dot": _Print(_dot, lambda x, y: x // 4 + y),
    "check": _Print(_check, lambda x, y: x),
    "floral": _Print(_floral, lambda x, y: x // 6 + y if (x + 3 * y) % 6 == 0 else -1),
    "text": _Print(_text, lambda x, y: y),
    "scallop": _Print(_scallop, lambda x, y: x + y),
    "speckle": _Print(_speckle, lambda x, y: x // 2 + y),
}
PRINTS = tuple(_PRINTS)


def _tile(name: str) -> _Print:
    """A print we know only by name: four marks by two, taken from the name."""
    number = int.from_bytes(blake2b(name.encode(), digest_size=5).digest())
    marks = [_TILE_MARKS[number >> 5 * place & 31] for place in range(8)]
    marks[0] = marks[0].strip() or "◇"
    return _Print(lambda x, y: marks[x % 4 + 4 * (y % 2)], lambda x, y: x + y)


@lru_cache(maxsize=256)
def _standing_out(ground: str) -> str:
    return max((_DARK, _LIGHT), key=lambda ink: contrast(ink, ground))


def _shade(ground: str) -> str:
    """A quiet ink for a print whose ground alone is given."""
    target = 0 if _standing_out(ground) == _DARK else 255
    parts = (int(ground[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{(2 * part + target) // 3:02x}" for part in parts)
