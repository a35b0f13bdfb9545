"""How far the batch has come, in one line."""

from rich.text import Text
from textual.widget import Widget

from workbench.drawing.canvas import shortened, width_of
from workbench.making.batch import Progress
from workbench.measure.counting import counted

_BAR = 12
_WIDE = 70


class ProgressLine(Widget):
    """Title on the left, progress on the right; the title gives way."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._title = ""
        self._progress: Progress | None = None
        self._left = self._instead = ""

    def show(self, title: str, progress: Progress, left: str = "", instead: str = "") -> None:
        """`left` is the time left in words; `instead` of all that, what the keys do just now."""
        self._title, self._progress, self._left, self._instead = title, progress, left, instead
        self.refresh()

    def render(self) -> Text:
        if self._progress is None:
            return Text()
        said = self._instead or _said(self._progress, self._left, bar=self.size.width >= _WIDE)
        space = self.size.width - len(said) - 2
        title = shortened(self._title, space)
        return Text.assemble((title, "bold"), " " * (space + 2 - width_of(title)), said)


def _said(progress: Progress, time_left: str, *, bar: bool) -> str:
    steps, cuts = progress.steps, progress.cuts
    said = [f"all {counted(steps.of, 'step')} done"]
    if steps.left:
        left = f"{counted(cuts.left, 'cut')} left" if cuts.left else "all cut"
        said = [f"step {steps.done + 1} of {steps.of}", left, *filter(None, [time_left])]
    full = _BAR * steps.done // steps.of if steps.of else _BAR
    drawn = "▰" * full + "▱" * (_BAR - full) + " " if bar else ""
    return drawn + ", ".join(said)
