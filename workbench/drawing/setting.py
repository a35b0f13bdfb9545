"""The setting of the guide, to be read from two metres: tall figures and the rule below them."""

from dataclasses import dataclass
from functools import lru_cache
from textwrap import wrap

from workbench.drawing.canvas import Canvas, Cell, shortened
from workbench.drawing.figures import LOWEST, tallest
from workbench.drawing.ruler import LOWEST_ROWS, ROWS, draw_rule
from workbench.measure.length import Length
from workbench.measure.writing import Graduation

_BOLD = Cell(bold=True)

# The guide stays where it is for many cuts; both are only read here.
_rule = lru_cache(maxsize=64)(draw_rule)
_figures = lru_cache(maxsize=64)(tallest)


@dataclass(frozen=True, slots=True)
class Setting:
    """What to draw: a number in tall figures and the words around it.

    Attributes:
        title: stands above the number.
        number: as `figures.tall` takes it.
        unit: stands small at the number's foot: "in", "mm" or "".
        aside: stands at the right of the title.
        note: stands below the number.
        off: how far the number lies beside the mark, in words; "" where it is exact.
        mark: the length to show on the rule, None to draw no rule.
    """

    title: str
    number: str
    unit: str
    aside: str = ""
    note: str = ""
    off: str = ""
    mark: Length | None = None


def draw_setting(setting: Setting, graduation: Graduation, columns: int, rows: int) -> Canvas:
    """Draw a setting as tall as the room allows, on a canvas of `columns` by `rows`.

    Where the room is low the rule is drawn lower, then left out, then what stands below the figures
    is written beside them; figures and words are never left out.
    """
    canvas = Canvas(columns, rows)
    spare = rows - 2 - bool(setting.off)
    rule_rows = _rule_rows(setting, spare)
    figures = _figures(setting.number, setting.unit, columns, spare - rule_rows)
    blank = max(0, spare - rule_rows - len(figures))
    _draw_title(canvas, setting)
    y = 1 + (blank > 2)
    for row in figures:
        canvas.text(0, y, row, _BOLD)
        y += 1
    if y + 1 + bool(setting.off) > rows:
        _draw_beside(canvas, setting, len(figures[0]) + 2)
        return canvas
    y += blank > 0
    canvas.text(0, y, shortened(setting.note, columns))
    y += 1
    if setting.off:
        canvas.text(0, y, shortened(setting.off, columns), _BOLD)
        y += 1
    if setting.mark is not None and rule_rows:
        rule = _rule(setting.mark, graduation, columns, rule_rows)
        canvas.paste(rule, 0, min(y + (blank > 1), rows - rule_rows))
    return canvas


def _draw_beside(canvas: Canvas, setting: Setting, x: int) -> None:
    y = 1
    for words, like in ((setting.note, Cell()), (setting.off, _BOLD)):
        for row in wrap(words, max(1, canvas.width - x)):
            canvas.text(x, y, row, like)
            y += 1


def _rule_rows(setting: Setting, spare: int) -> int:
    if setting.mark is None or spare < LOWEST + LOWEST_ROWS:
        return 0
    return min(ROWS, spare - LOWEST)


def _draw_title(canvas: Canvas, setting: Setting) -> None:
    canvas.text(0, 0, setting.title, _BOLD)
    canvas.text(max(len(setting.title) + 2, canvas.width - len(setting.aside)), 0, setting.aside)
