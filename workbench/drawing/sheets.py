"""A sheet drawn true to scale: its parts, their prints, and the cut at hand."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from workbench.craft.direction import Direction
from workbench.craft.paper import Paper, Size
from workbench.drawing.canvas import Box, Canvas, Cell, fit, shortened, width_of
from workbench.drawing.labels import write_short
from workbench.drawing.prints import colours, fill_print, outline
from workbench.measure.length import ZERO, Length, Unit
from workbench.planning import Part, Rectangle, Sheet

_SCRAP = Cell("╱", dim=True)
_GONE = Cell("·", dim=True)
_CUT = Cell(bold=True)


@dataclass(frozen=True)
class _Scale:
    """Lengths on a sheet to cells. The lines between parts are cells themselves."""

    sheet: Size
    columns: int
    rows: int

    def column(self, x: Length) -> int:
        return round(x.ratio(self.sheet.width) * (self.columns - 1))

    def row(self, y: Length) -> int:
        """Rows count from the top, lengths from the bottom."""
        return round((1 - y.ratio(self.sheet.height)) * (self.rows - 1))

    def box(self, x: Length, y: Length, size: Size) -> Box:
        left, top = self.column(x), self.row(y + size.height)
        right, bottom = self.column(x + size.width), self.row(y)
        return Box(left, top, right - left + 1, bottom - top + 1)


@dataclass(frozen=True)
class _Shown:
    """A part where it is drawn. `line` draws its frame; kept parts also have a print."""

    part: Part
    box: Box
    line: Cell
    kept: bool


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
        A canvas just as large as the sheet on it.
    """
    scale = _Scale(sheet.size, *fit(sheet.size, columns, rows))
    canvas = Canvas(scale.columns, scale.rows)
    whole = Rectangle(sheet.id, ZERO, ZERO, sheet.size)
    shown = [_shown(part, scale, paper, active or whole, gone) for part in sheet.parts]
    for each in shown:
        _fill(canvas, each, paper)
    # Kept parts last: a line that two parts share is drawn in the ink of the one that is kept.
    for each in sorted(shown, key=lambda each: each.kept):
        canvas.frame(each.box, each.line)
    for each in shown:
        if each.kept:
            _label(canvas, each, unit)
    if cut:
        _draw_cut(canvas, scale, active or whole, *cut)
    return canvas


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


def _label(canvas: Canvas, shown: _Shown, unit: Unit) -> None:
    """Name and size on a plain ground, as much of it as there is room for."""
    part, room = shown.part, shown.box.inner
    lines = [part.piece or part.role, *_size_lines(part, unit, room.width)]
    if part.turned:
        lines.append("(sideways)")
    lines = lines[: room.height] if room.width > 1 else []
    top = room.y + (room.height - len(lines)) // 2
    for row, line in enumerate(lines, top):
        text = shortened(line, room.width)
        padded = f" {text} " if width_of(text) + 2 <= room.width else text
        canvas.centred(
            Box(room.x, row, room.width, 1), padded, replace(shown.line, bold=row == top)
        )


def _size_lines(part: Part, unit: Unit, room: int) -> list[str]:
    """The size of the part as it will be used, on one line or two, or not at all."""
    size = part.size
    size = size.turned if part.turned else size
    across, up = write_short(size.width, unit), write_short(size.height, unit)
    if len(across) + len(up) + 3 <= room:
        return [f"{across} × {up}"]
    return [f"{across} ×", up] if max(len(across) + 2, len(up)) <= room else []


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
