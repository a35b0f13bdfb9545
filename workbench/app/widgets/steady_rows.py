"""Rows as wide as the terminal, whatever the names on them are made of."""

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from workbench.drawing.graphemes import steady


class SteadyRows(LineFilter):
    """Draws clusters of doubtful width in a way that every terminal agrees on."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, each as many cells wide as it is reckoned."""
        del background
        return [
            segment
            if segment.text.isascii()
            else Segment(steady(segment.text), segment.style, segment.control)
            for segment in segments
        ]
