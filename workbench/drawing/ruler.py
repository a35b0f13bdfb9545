"""The trimmer's rule, drawn to scale around the mark that the guide is set to."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.drawing.canvas import Canvas, Cell
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.rule import RuleTick, rule_ticks
from workbench.measure.writing import Graduation, nearest_mark, write_number

ROWS = 6
LOWEST_ROWS = 4
_EDGE = 1
# What must be in sight for the mark to be found by the numbers beside it.
_IN_SIGHT: dict[Unit, Fraction] = {"in": Fraction(5, 4), "mm": Fraction(20)}
_WIDEST = 4
# How far a line reaches below the edge, in half rows, by its rank.
_REACH: dict[Unit, tuple[int, ...]] = {"in": (7, 5, 4, 3, 2, 1, 1), "mm": (7, 5, 3, 1)}


def draw_rule(length: Length, graduation: Graduation, columns: int, rows: int = ROWS) -> Canvas:
    """Draw the stretch of a rule around a mark.

    A pointer stands at the mark nearest to `length`, and a hollow one where `length` lies beside
    it. The edge is heavy from the rule's beginning to the mark: what is measured of the paper.

    Args:
        length: what to measure.
        graduation: how the rule is divided.
        columns: the width of the canvas.
        rows: its height, from `LOWEST_ROWS` to `ROWS`.
    """
    view = _View.around(nearest_mark(length, graduation).mark, graduation, columns)
    canvas = Canvas(columns, rows)
    _draw_edge(canvas, view)
    ticks = rule_ticks(view.start, view.end, graduation)
    numbered = min((tick.rank for tick in ticks), default=0)
    for tick in ticks:
        _draw_line(canvas, view, tick)
        if tick.rank == numbered:
            _draw_number(canvas, view, tick)
    _draw_pointers(canvas, view, length)
    return canvas


@dataclass(frozen=True, slots=True)
class _View:
    """The stretch of the rule in sight: from `start`, `spread` columns to a graduation."""

    mark: Length
    graduation: Graduation
    columns: int
    spread: int
    start: Length

    @classmethod
    def around(cls, mark: Length, graduation: Graduation, columns: int) -> "_View":
        """The mark in the middle, but nothing from before the rule begins."""
        spread = _spread(graduation, columns)
        before = graduation.interval * (columns // 2 // spread)
        return cls(mark, graduation, columns, spread, max(ZERO, mark - before))

    @property
    def end(self) -> Length:
        return self.start + self.graduation.interval * Fraction(self.columns - 1, self.spread)

    def column(self, place: Length) -> int:
        return round((place - self.start).ratio(self.graduation.interval) * self.spread)


def _spread(graduation: Graduation, columns: int) -> int:
    wanted = _IN_SIGHT[graduation.unit] / graduation.step
    return max(1, min(_WIDEST, int(columns / wanted)))


def _draw_edge(canvas: Canvas, view: _View) -> None:
    for column in range(view.columns):
        measured = column < view.column(view.mark)
        canvas.put(column, _EDGE, Cell("━" if measured else "─", bold=measured))


def _draw_line(canvas: Canvas, view: _View, tick: RuleTick) -> None:
    column, at_mark = view.column(tick.position), tick.position == view.mark
    measured = tick.position < view.mark
    like = Cell(bold=at_mark or measured)
    canvas.text(column, _EDGE, "┳" if at_mark else "┯" if measured else "┬", like)
    reaches = _REACH[view.graduation.unit]
    deepest = 2 * (canvas.height - 3) + 1
    reach = deepest if at_mark else min(deepest, reaches[tick.rank])
    for half in range(1, reach, 2):
        character = "┃" if at_mark else "╵" if half == reach - 1 else "│"
        canvas.text(column, _EDGE + 1 + half // 2, character, Cell(bold=at_mark))


def _draw_number(canvas: Canvas, view: _View, tick: RuleTick) -> None:
    number = write_number(tick.position, view.graduation.unit)
    column = view.column(tick.position) - (len(number) - 1) // 2
    column = min(max(0, column), view.columns - len(number))
    canvas.text(column, canvas.height - 1, number, Cell(bold=tick.position == view.mark))


def _draw_pointers(canvas: Canvas, view: _View, length: Length) -> None:
    canvas.text(view.column(length), 0, "▽")
    canvas.text(view.column(view.mark), 0, "▼", Cell(bold=True))
