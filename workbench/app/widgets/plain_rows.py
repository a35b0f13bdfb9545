"""Rows for a terminal that knows only ASCII."""

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from workbench.drawing.plain_text import in_ascii


class PlainRows(LineFilter):
    """Draws every character that is none of ASCII's as one that is like it."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, each as many cells wide as before."""
        del background
        return [
            segment
            if segment.text.isascii()
            else Segment(in_ascii(segment.text), segment.style, segment.control)
            for segment in segments
        ]
