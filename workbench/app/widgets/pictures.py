"""Widgets that are drawn again whenever their room changes."""

from collections.abc import Callable
from itertools import zip_longest

from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from workbench.drawing.canvas import Canvas, style_of

Drawing = Callable[[int, int], Canvas]


class Picture(Widget):
    """Shows what a function draws for the columns and rows there are."""

    ALLOW_SELECT = False

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._drawing: Drawing | None = None
        self._drawn = Canvas(0, 0)
        self._drawn_for: tuple[int, int] | None = None

    def show(self, drawing: Drawing | None) -> None:
        """Show it from now on; of a picture in sight, only the rows that change are painted."""
        self._drawing, drawn = drawing, self._drawn
        if drawing is None or self._drawn_for != self.size:
            self._drawn_for = None
            self.refresh()
            return
        self._draw(drawing)
        for y, (was, now) in enumerate(zip_longest(drawn.rows(), self._drawn.rows())):
            if was != now:
                self.refresh(Region(0, y, self.size.width, 1))

    def render_line(self, y: int) -> Strip:
        """Row `y` of the picture, straight from its cells: several times quicker than a Text."""
        ground = self.visual_style.rich_style
        if self._drawing and self._drawn_for != self.size:
            self._draw(self._drawing)
        if not self._drawing or y >= self._drawn.height:
            return Strip.blank(self.size.width, ground)
        row = [Segment(characters, style_of(cell)) for characters, cell in self._drawn.runs(y)]
        return Strip(row, self._drawn.width).extend_cell_length(self.size.width).apply_style(ground)

    def _draw(self, drawing: Drawing) -> None:
        self._drawn_for = columns, rows = self.size
        self._drawn = drawing(columns, rows)
