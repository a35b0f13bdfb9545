"""A sheet drawn true to scale: its parts, their prints, and the cut at hand."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from workbench.craft.direction import Direction
from workbench.craft.paper import Paper, Size
from workbench.drawing.canvas import Box, Canvas, Cell, fit, width_of
from workbench.drawing.prints import colours, fill_print, outline
from workbench.drawing.sheet_labels import (
    Labels,
    Likeness,
    key_lines,
    label_box,
    labels_of,
)
from workbench.measure.length import ZERO, Length, Unit
from workbench.planning import Part, Rectangle, Sheet

_SCRAP = Cell("╱", dim=True)
_GONE = Cell("·", dim=True)
_CUT = Cell(bold=True)
# The key is laid out at each of these widths, and a sheet left less than this share of its cells
# does without it.
_KEY_WIDTHS = (40, 24, 16)
_GAP = 2
_LEAST_SHARE = 0.5


@dataclass(frozen=True)
class _Scale:
    """Lengths on a sheet to cells. Lines between parts run through the middle of cells."""

    sheet: Size
    columns: int
    rows: int

    def column(self, x: Length) -> int:
        return _cell_at(x.ratio(self.sheet.width), self.columns)

    def row(self, y: Length) -> int:
        """The row, counted from the top, in which a line so far from the bottom lies."""
        return _cell_at(1 - y.ratio(self.sheet.height), self.rows)

    def box(self, x: Length, y: Length, size: Size) -> Box:
        left, top = self.column(x), self.row(y + size.height)
        right, bottom = self.column(x + size.width), self.row(y)
        return Box(left, top, right - left + 1, bottom - top + 1)


def _cell_at(share: Fraction, cells: int) -> int:
    """The cell in which a line lies, so far along; only those at the edge lie in the outermost."""
    if share in (0, 1) or cells < 3:
        return round(share * (cells - 1))
    return max(1, min(cells - 2, floor(share * cells)))


@dataclass(frozen=True)
class _Shown:
    """A part where it is drawn. `line` draws its frame; kept parts also have a print."""

    part: Part
    box: Box
    line: Cell
    kept: bool


@dataclass(frozen=True)
class _Arranged:
    """How large a sheet is drawn, what is written on it, and its key: beside it, or below."""

    scale: _Scale
    labels: Labels
    key: tuple[str, ...] = ()
    beside: bool = False

    @property
    def cells(self) -> int:
        return self.scale.columns * self.scale.rows


def draw_sheet(
    sheet: Sheet,
    paper: Paper,
    columns: int,
    rows: int,
    unit: Unit,
    *,
    active: Rectangle | None = None,
    cut: tuple[Direction, Length] | None = None,
    gone: Collection[Part] = (),
) -> Canvas:
    """Draw a sheet cut into its parts, true to scale.

    Parts without room for their words bear a number; the key to the numbers stands beside the
    sheet or below it, and takes some of its room where there is none to spare. Where the sheet
    would be too small then, such parts bear nothing.

    Args:
        sheet: the sheet with its parts.
        paper: what it is of.
        columns: the cells available across.
        rows: the cells available down.
        unit: what the sizes on the parts count.
        active: the rectangle at hand, outside of which the sheet is dimmed; None for all of it.
        cut: the direction that is measured and the mark of a cut through the active rectangle.
        gone: those of its parts that are drawn as empty places.

    Returns:
        A canvas just as large as the sheet on it and the key.
    """
    arranged = _arranged(sheet, columns, rows, unit)
    whole = Rectangle(sheet.id, ZERO, ZERO, sheet.size)
    return _with_key(_drawn(sheet, paper, arranged, active or whole, gone, cut=cut), arranged)


def draw_numbered(
    sheet: Sheet, paper: Paper, columns: int, rows: int, unit: Unit
) -> tuple[Canvas, Mapping[Likeness, int]]:
    """The same without its key, and the numbers on it, for whoever tells them in words beside it.

    Parts alike share a number.
    """
    arranged = _plain(sheet, columns, rows, unit)
    whole = Rectangle(sheet.id, ZERO, ZERO, sheet.size)
    return _drawn(sheet, paper, arranged, whole), arranged.labels.numbers


def _drawn(
    sheet: Sheet,
    paper: Paper,
    arranged: _Arranged,
    active: Rectangle,
    gone: Collection[Part] = (),
    *,
    cut: tuple[Direction, Length] | None = None,
) -> Canvas:
    scale = arranged.scale
    canvas = Canvas(scale.columns, scale.rows)
    shown = [_shown(part, scale, paper, active, gone) for part in sheet.parts]
    for each in shown:
        _fill(canvas, each, paper)
    # Kept parts last: a line that two parts share is drawn in the ink of the one that is kept.
    for each in sorted(shown, key=lambda each: each.kept):
        canvas.frame(each.box, each.line)
    canvas.outward()
    if cut:
        _draw_cut(canvas, scale, active, *cut)
    for place, lines in arranged.labels.lines.items():
        if shown[place].kept:
            _label(canvas, shown[place], lines)
    return canvas


# The key


def _arranged(sheet: Sheet, columns: int, rows: int, unit: Unit) -> _Arranged:
    """The sheet as large as can be with its key, if it needs one."""
    plain = _plain(sheet, columns, rows, unit)
    if not plain.labels.numbers:
        return plain
    ways = [(min(width, columns), True) for width in _KEY_WIDTHS] + [(columns, False)]
    keyed = [
        found
        for width, beside in ways
        if (found := _keyed(plain, sheet, unit, (columns, rows, width), beside=beside))
    ]
    best = max(keyed, key=lambda found: found.cells, default=None)
    if best is None or best.cells < _LEAST_SHARE * plain.cells:
        return replace(plain, labels=Labels(plain.labels.words))
    return best


def _plain(sheet: Sheet, columns: int, rows: int, unit: Unit) -> _Arranged:
    scale = _Scale(sheet.size, *fit(sheet.size, columns, rows))
    boxes = {
        place: scale.box(part.x, part.y, part.size)
        for place, part in enumerate(sheet.parts)
        if part.role != "scrap"
    }
    return _Arranged(scale, labels_of(boxes, sheet.parts, unit))


def _keyed(
    plain: _Arranged, sheet: Sheet, unit: Unit, room: tuple[int, int, int], *, beside: bool
) -> _Arranged | None:
    """The sheet made smaller until its key has room; the smaller it is, the more the key tells.

    `room` is the columns and rows there are, and the columns that the key may take.
    """
    columns, rows, width = room
    found = plain
    for _ in range(len(sheet.parts)):
        key = key_lines(found.labels.numbers, unit, width)
        across = max(map(width_of, key), default=0)
        left = (columns - across - _GAP, rows) if beside else (columns, rows - len(key))
        if min(left) < 1 or across > columns or len(key) > rows:
            return None
        smaller = _plain(sheet, *left, unit)
        if smaller.labels.numbers == found.labels.numbers:
            return replace(smaller, key=tuple(key), beside=beside)
        found = smaller
    return None


def _with_key(drawn: Canvas, arranged: _Arranged) -> Canvas:
    if not arranged.key:
        return drawn
    across = max(map(width_of, arranged.key))
    if arranged.beside:
        x, y = drawn.width + _GAP, 0
        canvas = Canvas(x + across, max(drawn.height, len(arranged.key)))
    else:
        x, y = 0, drawn.height
        canvas = Canvas(max(drawn.width, across), y + len(arranged.key))
    canvas.paste(drawn, 0, 0)
    for row, line in enumerate(arranged.key, y):
        canvas.text(x, row, line)
    return canvas


# The parts


def _shown(
    part: Part, scale: _Scale, paper: Paper, active: Rectangle, gone: Collection[Part]
) -> _Shown:
    box = scale.box(part.x, part.y, part.size)
    if part in gone:
        return _Shown(part, box, _GONE, kept=False)
    if part.role == "scrap":
        return _Shown(part, box, _SCRAP, kept=False)
    dim = not _lies_within(part, active)
    line = Cell(ink=outline(paper), ground=colours(paper).ground, dim=dim)
    return _Shown(part, box, line, kept=True)


def _lies_within(part: Part, active: Rectangle) -> bool:
    return (
        active.x <= part.x
        and part.x + part.width <= active.x + active.size.width
        and active.y <= part.y
        and part.y + part.height <= active.y + active.size.height
    )


def _fill(canvas: Canvas, shown: _Shown, paper: Paper) -> None:
    if shown.kept:
        fill_print(canvas, shown.box.inner, paper, dim=shown.line.dim)
    else:
        canvas.fill(shown.box.inner, shown.line)


def _label(canvas: Canvas, shown: _Shown, lines: Sequence[str]) -> None:
    """The lines on a plain ground, the first of them bold."""
    room = label_box(shown.box, lines)
    for row, line in enumerate(lines, room.y):
        spare = room.width - width_of(line)
        padded = f" {line} " if spare > 1 else f"{line} " if spare else line
        canvas.centred(
            Box(room.x, row, room.width, 1), padded, replace(shown.line, bold=row == room.y)
        )


def _draw_cut(
    canvas: Canvas, scale: _Scale, through: Rectangle, measure: Direction, mark: Length
) -> None:
    box = scale.box(through.x, through.y, through.size)
    if measure is Direction.WIDTH:
        x = scale.column(through.x + mark)
        canvas.fill(Box(x, box.y, 1, box.height), replace(_CUT, char="┃"))
    else:
        y = scale.row(through.y + mark)
        canvas.fill(Box(box.x, y, box.width, 1), replace(_CUT, char="━"))
