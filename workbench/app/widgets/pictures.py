"""Widgets that are drawn again whenever their size changes."""

from collections.abc import Callable

from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from workbench.drawing.canvas import Canvas, style_of

Drawing = Callable[[int, int], Canvas]
# How many halves of the rows to spare lie above a picture.
_SHARES = {"top": 0, "middle": 1, "bottom": 2}


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
        before, in_sight = self._drawn, self._drawn_for == self.size
        self._drawing, self._drawn_for = drawing, None
        if not in_sight or (before.width, before.height) != (self.drawn.width, self.drawn.height):
            self.refresh()
            return
        rows = zip(before.rows(), self.drawn.rows(), strict=True)
        for y, (was, now) in enumerate(rows, self._top):
            if was != now:
                self.refresh(Region(0, y, self.size.width, 1))

    @property
    def drawn(self) -> Canvas:
        """The picture as it is drawn for the size there is now."""
        if self._drawn_for != self.size:
            self._drawn_for = columns, rows = self.size
            self._drawn = self._drawing(columns, rows) if self._drawing else Canvas(0, 0)
        return self._drawn

    def render_line(self, y: int) -> Strip:
        """Row `y` of the picture, straight from its cells: several times quicker than a Text."""
        width, ground = self.size.width, self.visual_style.rich_style
        if not self._top <= y < self._top + self.drawn.height:
            return Strip.blank(width, ground)
        runs = self.drawn.runs(y - self._top)
        row = Strip([Segment(words, style_of(cell)) for words, cell in runs], self.drawn.width)
        across, _ = self.styles.content_align
        (aligned,) = Strip.align([row], ground, width, None, across, "top")
        return aligned.apply_style(ground)

    @property
    def _top(self) -> int:
        """The row that the first row drawn lies on."""
        _, down = self.styles.content_align
        return (self.size.height - self.drawn.height) * _SHARES[down] // 2
