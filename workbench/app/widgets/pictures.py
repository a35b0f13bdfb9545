"""Widgets that are drawn again whenever their room changes."""

from collections.abc import Callable

from rich.text import Text
from textual.widget import Widget

from workbench.drawing.canvas import Canvas

Drawing = Callable[[int, int], Canvas]


class Picture(Widget):
    """Shows what a function draws for the columns and rows there are."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._drawing: Drawing | None = None

    def show(self, drawing: Drawing | None) -> None:
        self._drawing = drawing
        self.refresh()

    def render(self) -> Text:
        columns, rows = self.size
        if self._drawing is None or not columns or not rows:
            return Text()
        return self._drawing(columns, rows).to_text()
