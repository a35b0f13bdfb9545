"""The steps of a plan, under the marks they are done at, with what is ticked."""

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from workbench.drawing.canvas import wrapped
from workbench.making.batch import BatchState
from workbench.making.outline import Line, Stretch, outline
from workbench.making.plan_index import PlanIndex
from workbench.measure.writing import Graduation

_NUMBERS = 7
_INDENT = _NUMBERS + 3
_BOLD = Style(bold=True)


class StepList(ScrollView, can_focus=False):
    """Keeps its place; `show` fills it. Only the rows in sight are drawn."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._stretches: tuple[Stretch, ...] = ()
        self._state: BatchState | None = None
        self._rows: list[Segment] = []

    def show(
        self, index: PlanIndex | None, graduation: Graduation, state: BatchState | None
    ) -> None:
        """List the steps; those ticked in `state` are marked, and the one at hand is in sight."""
        self._stretches, self._state = outline(index, graduation) if index else (), state
        self._lay_out()

    def on_resize(self, _: events.Resize) -> None:
        self._lay_out()

    def _lay_out(self) -> None:
        """Divide the words into rows, and look at the stretch that is at hand."""
        width, at_hand = self.scrollable_content_region.width, None
        self._rows.clear()
        for stretch in self._stretches:
            if any(_is_at_hand(line, self._state) for line in stretch.lines):
                at_hand = len(self._rows)
            self._rows += (Segment(row, _BOLD) for row in self._wrapped(stretch.heading, width))
            for line in stretch.lines:
                self._rows += self._rows_of(line, width)
        self.virtual_size = Size(width, len(self._rows))
        if at_hand is not None:
            self.scroll_to(y=at_hand, animate=False)
        self.refresh()

    def _rows_of(self, line: Line, width: int) -> list[Segment]:
        first, *others = self._wrapped(line.words, width - _INDENT)
        lead = f"{_tick(line, self._state):1} {line.numbers:>{_NUMBERS}} "
        return [Segment(f"{lead}{first}"), *(Segment(" " * _INDENT + row) for row in others)]

    def _wrapped(self, words: str, width: int) -> list[str]:
        if cell_len(words) <= width or width < 1:
            return [words.replace("\xa0", " ")]
        # Between the figures of a size there is a space that does not part them.
        return [row.replace("\xa0", " ") for row in wrapped(words.split(" "), width)]

    def render_line(self, y: int) -> Strip:
        width, ground = self.size.width, self.visual_style.rich_style
        place = y + self.scroll_offset.y
        row = [self._rows[place]] if place < len(self._rows) else []
        return Strip(row).adjust_cell_length(width).apply_style(ground)


def _tick(line: Line, state: BatchState | None) -> str:
    if state and state.ticked(line.last):
        return "✓"
    return "▸" if _is_at_hand(line, state) else ""


def _is_at_hand(line: Line, state: BatchState | None) -> bool:
    return state is not None and line.first <= (state.current or 0) <= line.last
