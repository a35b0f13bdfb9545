"""The steps of a plan, under the marks they are done at, with what is ticked."""

from operator import is_

from rich.console import Group
from rich.table import Table
from rich.text import Text
from textual.containers import VerticalScroll
from textual.widgets import Static

from workbench.making.batch import State
from workbench.making.bench import Bench
from workbench.making.outline import Line, Stretch, outline
from workbench.measure.writing import Graduation

_NUMBERS = 7


class StepList(VerticalScroll, can_focus=False):
    """Keeps its place; `show` fills it."""

    _listed: tuple[Bench | None, Graduation, State | None] | None = None

    def show(self, bench: Bench | None, graduation: Graduation, state: State | None) -> None:
        """List the steps; those ticked in `state` are marked, and the one at hand is in sight."""
        if self._listed is not None and all(map(is_, self._listed, (bench, graduation, state))):
            return
        self._listed = bench, graduation, state
        stretches = outline(bench, graduation) if bench else ()
        shown = [Static(_written(stretch, state)) for stretch in stretches]
        self.remove_children()
        self.mount_all(shown)
        for widget, stretch in zip(shown, stretches, strict=True):
            if any(_is_at_hand(line, state) for line in stretch.lines):
                self.call_after_refresh(self.scroll_to_widget, widget, animate=False, top=True)


def _written(stretch: Stretch, state: State | None) -> Group:
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(width=1)
    table.add_column(width=_NUMBERS, justify="right")
    table.add_column()
    for line in stretch.lines:
        table.add_row(_tick(line, state), Text(line.numbers), Text(line.words))
    return Group(Text(stretch.heading, "bold"), table)


def _tick(line: Line, state: State | None) -> str:
    if state and state.ticked(line.last):
        return "✓"
    return "▸" if _is_at_hand(line, state) else ""


def _is_at_hand(line: Line, state: State | None) -> bool:
    return state is not None and line.first <= (state.current or 0) <= line.last
