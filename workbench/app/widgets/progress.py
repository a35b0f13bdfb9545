"""How far the batch has come, in one line."""

from rich.text import Text
from textual.widget import Widget

from workbench.drawing.canvas import shortened
from workbench.making.batch import Progress

_BAR = 12


class ProgressLine(Widget):
    """Title on the left, progress on the right; the title gives way."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._title = ""
        self._progress: Progress | None = None

    def show(self, title: str, progress: Progress) -> None:
        self._title, self._progress = title, progress
        self.refresh()

    def render(self) -> Text:
        if self._progress is None:
            return Text()
        said = _said(self._progress)
        room = self.size.width - len(said) - 2
        title = shortened(self._title, room)
        return Text.assemble((title, "bold"), " " * (room + 2 - len(title)), said)


def _said(progress: Progress) -> str:
    steps, cuts = progress.steps, progress.cuts
    full = _BAR * steps.done // steps.of if steps.of else _BAR
    bar = "▰" * full + "▱" * (_BAR - full)
    if not steps.left:
        return f"{bar} all {steps.of} steps done"
    left = f"{cuts.left} cut{'' if cuts.left == 1 else 's'} left" if cuts.left else "all cut"
    return f"{bar} step {steps.done + 1} of {steps.of}, {left}"
