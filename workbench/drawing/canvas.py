"""A picture made of character cells, and the lines that join on it."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import get_character_cell_size

from workbench.drawing.cell import cell_shape

if TYPE_CHECKING:
    from rich.style import Style
    from rich.text import Text

    from workbench.craft.paper import Size

_UP, _DOWN, _LEFT, _RIGHT = 1, 2, 4, 8
_LINES = " ╵╷│╴┘┐┤╶└┌├─┴┬┼"
_ARMS = {character: arms for arms, character in enumerate(_LINES) if arms}
# Eighths of a cell, which lie at its very edge.
_LEFT_EDGE, _RIGHT_EDGE, _TOP_EDGE, _BOTTOM_EDGE = "▏▕▔▁"
_BLANK = re.compile(r"\s(?!\d+/\d)")


@dataclass(frozen=True, slots=True)
class Cell:
    """One character with its look.

    Attributes:
        char: the character; "" in the second cell of one that is two cells wide.
        ink: its colour "#rrggbb", None for the terminal's own.
        ground: the colour behind it, likewise.
        bold: whether it is heavy.
        dim: whether it is faint.
        reverse: whether ink and ground change places.
    """

    char: str = " "
    ink: str | None = None
    ground: str | None = None
    bold: bool = False
    dim: bool = False
    reverse: bool = False


class Box(NamedTuple):
    """Cells from (x, y), the top left one, `width` across and `height` down."""

    x: int
    y: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """The x of its last column."""
        return self.x + self.width - 1

    @property
    def bottom(self) -> int:
        """The y of its last row."""
        return self.y + self.height - 1

    @property
    def inner(self) -> "Box":
        """What is left inside a frame of one cell."""
        return Box(self.x + 1, self.y + 1, max(0, self.width - 2), max(0, self.height - 2))


BLANK = Cell()


class Canvas:
    """Cells to draw on, (0, 0) at the top left. Drawing outside it is cut off."""

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        self._cells = [[BLANK] * width for _ in range(height)]

    def cell(self, x: int, y: int) -> Cell:
        """The cell at (x, y); a blank one outside the canvas."""
        return self._cells[y][x] if self._holds(x, y) else BLANK

    def rows(self) -> Iterator[tuple[Cell, ...]]:
        """The cells of each row, from the top."""
        return (tuple(row) for row in self._cells)

    def lines(self) -> list[str]:
        """The characters of each row, from the top, without blanks at the end."""
        return ["".join(cell.char for cell in row).rstrip() for row in self._cells]

    def put(self, x: int, y: int, cell: Cell) -> None:
        """Put `cell` at (x, y)."""
        if self._holds(x, y):
            row = self._cells[y]
            _part(row, x)
            _part(row, x + 1)
            row[x] = cell

    def put_row(self, x: int, y: int, cells: Sequence[Cell]) -> None:
        """Put `cells` beside one another, the first at (x, y)."""
        first, last, start = max(0, -x), max(0, self.width - x), max(0, x)
        seen = cells[first:last]
        if seen and 0 <= y < self.height:
            row, end = self._cells[y], start + len(seen)
            _part(row, start)
            _part(row, end)
            row[start:end] = seen
            if not seen[0].char:
                row[start] = _with(seen[0], " ")
            if last < len(cells) and not cells[last].char:
                row[end - 1] = _with(seen[-1], " ")

    def text(self, x: int, y: int, text: str, like: Cell = BLANK) -> None:
        """Write `text` from (x, y) to the right, with the colours and weight of `like`."""
        characters = _spread(text)
        made = {character: _with(like, character) for character in set(characters)}
        self.put_row(x, y, [made[character] for character in characters])

    def centred(self, box: Box, text: str, like: Cell = BLANK) -> None:
        """Write `text` in the middle of `box`, shortened to what it holds."""
        text = shortened(text, box.width)
        x = box.x + (box.width - width_of(text)) // 2
        self.text(x, box.y + (box.height - 1) // 2, text, like)

    def fill(self, box: Box, cell: Cell) -> None:
        """Put `cell` everywhere in `box`."""
        for y in range(box.y, box.y + box.height):
            self.put_row(box.x, y, [cell] * box.width)

    def paste(self, other: "Canvas", x: int, y: int) -> None:
        """Put the cells of `other` here, its top left at (x, y)."""
        for down, row in enumerate(other.rows()):
            self.put_row(x, y + down, row)

    def hline(self, x: int, y: int, width: int, like: Cell = BLANK) -> None:
        """Draw a level line from (x, y) to the right, joined to the lines it meets.

        Nothing is drawn for a `width` of less than two cells.
        """
        for column in range(x, x + width if width > 1 else x):
            arms = (_LEFT if column > x else 0) | (_RIGHT if column < x + width - 1 else 0)
            self._join(column, y, arms, like)

    def vline(self, x: int, y: int, height: int, like: Cell = BLANK) -> None:
        """Draw an upright line from (x, y) down, joined to the lines it meets.

        Nothing is drawn for a `height` of less than two cells.
        """
        for row in range(y, y + height if height > 1 else y):
            arms = (_UP if row > y else 0) | (_DOWN if row < y + height - 1 else 0)
            self._join(x, row, arms, like)

    def frame(self, box: Box, like: Cell = BLANK) -> None:
        """Draw the outline of `box` in its outermost cells, joined to the lines it meets."""
        self.hline(box.x, box.y, box.width, like)
        self.hline(box.x, box.bottom, box.width, like)
        self.vline(box.x, box.y, box.height, like)
        self.vline(box.right, box.y, box.height, like)

    def edge(self, box: Box, like: Cell = BLANK) -> None:
        """Draw the outline of `box` along its very edge, where it is not too low for one.

        What is drawn in the cells along it is taken away. A low box has its two ends drawn alone,
        so that its print has room.
        """
        if box.height > 2:
            across = Box(box.x, box.y, box.width, 1)
            self.fill(across, _with(like, _TOP_EDGE))
            self.fill(across._replace(y=box.bottom), _with(like, _BOTTOM_EDGE))
        if box.width > 1:
            ends = Box(box.x, box.y, 1, box.height)
            self.fill(ends, _with(like, _LEFT_EDGE))
            self.fill(ends._replace(x=box.right), _with(like, _RIGHT_EDGE))

    def outward(self) -> None:
        """Move the lines in the outermost cells to the very edge; lines that end there reach it.

        Nothing is moved where there are fewer than three cells across or down.
        """
        if min(self.width, self.height) < 3:
            return
        for y, row in enumerate(self._cells):
            for x in range(self.width) if y in (0, self.height - 1) else (0, self.width - 1):
                row[x] = _with(row[x], self._moved_out(x, y))

    def _moved_out(self, x: int, y: int) -> str:
        there = self._cells[y][x].char
        arms = _ARMS.get(there)
        if arms is None:
            return there
        if x in (0, self.width - 1):
            is_met = arms & (_LEFT | _RIGHT) and 0 < y < self.height - 1
            return "─" if is_met else (_RIGHT_EDGE if x else _LEFT_EDGE)
        return "│" if arms & (_UP | _DOWN) else (_BOTTOM_EDGE if y else _TOP_EDGE)

    def runs(self, y: int) -> Iterator[tuple[str, Cell]]:
        """Row `y` in stretches of characters that look alike, each with its first cell."""
        row, start = self._cells[y], 0
        for end in range(1, len(row) + 1):
            if end == len(row) or not _alike(row[end], row[start]):
                yield "".join(cell.char for cell in row[start:end]), row[start]
                start = end

    def to_text(self) -> "Text":
        """The whole canvas as rich text; no character is read as markup."""
        from rich.text import Text

        text = Text(no_wrap=True, end="")
        for y in range(self.height):
            text.append("\n" if y else "")
            for characters, cell in self.runs(y):
                text.append(characters, style_of(cell))
        return text

    def _holds(self, x: int, y: int) -> bool:
        return 0 <= x < self.width and 0 <= y < self.height

    def _join(self, x: int, y: int, arms: int, like: Cell) -> None:
        there = self.cell(x, y)
        joined = _LINES[arms | _ARMS.get(there.char, 0)]
        self.put(x, y, _with(like, joined, like.ground or there.ground))


def _part(row: list[Cell], x: int) -> None:
    """Blank a wide character that lies across the edge before cell `x`: half of it goes."""
    if x < len(row) and not row[x].char:
        row[x - 1], row[x] = _with(row[x - 1], " "), _with(row[x], " ")


def _with(like: Cell, character: str, ground: str | None = None) -> Cell:
    # Called for every character drawn: dataclasses.replace takes several times as long.
    ground = ground or like.ground
    return Cell(character, like.ink, ground, like.bold, like.dim, like.reverse)


def _alike(one: Cell, other: Cell) -> bool:
    return (
        one.ink == other.ink
        and one.ground == other.ground
        and one.bold == other.bold
        and one.dim == other.dim
        and one.reverse == other.reverse
    )


def fit(size: "Size", columns: int, rows: int) -> tuple[int, int]:
    """The largest picture with the proportions of `size` in the terminal's own cells.

    Args:
        size: what is pictured.
        columns: the cells available across.
        rows: the cells available down.

    Returns:
        Its columns and rows, at least 1 each.
    """
    shape = size.width.ratio(size.height) * cell_shape()
    across = min(Fraction(columns), rows * shape)
    return max(1, min(columns, round(across))), max(1, min(rows, round(across / shape)))


def width_of(text: str) -> int:
    """The number of cells that `text` takes; some characters take two, and some none."""
    return len(_spread(text))


def shortened(text: str, width: int) -> str:
    """`text` itself, or its start and "…" where it takes more than `width` cells."""
    cells = _spread(text)
    if len(cells) <= width:
        return text
    kept = max(0, width - 1)
    while kept and not cells[kept]:  # not half of a wide character
        kept -= 1
    return "".join(cells[:kept]) + "…" * (width > 0)


def wrapped(words: Sequence[str], columns: int) -> Iterator[str]:
    """The words in lines of so many cells; those that are wider are broken, no others.

    A word may hold blanks, as a size does: it is broken there first, but not within "11 3/16".
    """
    line = ""
    parts = (part for word in words for part in _parts(word, columns))
    for piece in (piece for part in parts for piece in _broken(part, columns)):
        longer = f"{line} {piece}" if line else piece
        if width_of(longer) <= columns:
            line = longer
        else:
            yield line
            line = piece
    yield line


def _parts(word: str, columns: int) -> Sequence[str]:
    return [word] if width_of(word) <= columns else _BLANK.split(word)


def _broken(word: str, columns: int) -> Iterator[str]:
    piece = ""
    for character in word:
        if piece and width_of(piece + character) > columns:
            yield piece
            piece = ""
        piece += character
    yield piece


def _spread(text: str) -> list[str]:
    """A character for each cell; the second cell of a wide one holds nothing."""
    if text.isascii() and text.isprintable():  # before the table of all widths is read
        return list(text)
    cells: list[str] = []
    for character in text:
        width = get_character_cell_size(character)
        cells += [character, *[""] * (width - 1)] if width else []
    return cells


def style_of(cell: Cell) -> "Style":
    """The look of `cell` as a rich style; cells that look alike share one."""
    return _style(cell.ink, cell.ground, cell.bold, cell.dim, cell.reverse)


@lru_cache(maxsize=256)
def _style(ink: str | None, ground: str | None, bold: bool, dim: bool, reverse: bool) -> "Style":
    from rich.style import Style

    return Style(
        color=ink,
        bgcolor=ground,
        bold=bold or None,
        dim=dim or None,
        reverse=reverse or None,
    )
