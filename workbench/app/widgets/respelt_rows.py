"""Rows that a terminal can show: as wide as it, and in no letters but those that it knows."""

from collections.abc import Callable

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter


class RespeltRows(LineFilter):
    """Draws what is not ASCII as `respelt` spells it, as many cells wide as it is reckoned."""

    def __init__(self, respelt: Callable[[str], str]) -> None:
        super().__init__()
        self._respelt = respelt

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, each as many cells wide as it is reckoned."""
        del background
        return [
            segment
            if segment.text.isascii()
            else Segment(self._respelt(segment.text), segment.style, segment.control)
            for segment in segments
        ]
