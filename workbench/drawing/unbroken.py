"""Words that stay on one line of a text that rich wraps, which breaks at every blank it knows."""

from dataclasses import dataclass

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.segment import Segment

_BLANK = "\N{BRAILLE PATTERN BLANK}"  # as wide as a blank, and none to rich


def unbroken(words: str) -> str:
    """`words` so that no line ends within them, for what is shown by `Unbroken`."""
    return words.replace(" ", _BLANK)


@dataclass(frozen=True, slots=True)
class Unbroken:
    """What `shown` looks like, its unbroken words with plain blanks again."""

    shown: RenderableType

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Render it."""
        for segment in console.render(self.shown, options):
            yield Segment(segment.text.replace(_BLANK, " "), segment.style, segment.control)
