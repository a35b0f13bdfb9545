"""The rows of the drawer, of which only those in sight are ever drawn."""

from collections.abc import Sequence
from typing import ClassVar

from rich.cells import set_cell_size
from rich.segment import Segment
from textual.binding import BindingType
from textual.events import Click
from textual.geometry import Size as Cells
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from workbench.app.commands import LookDown, LookUp
from workbench.craft.paper import Size
from workbench.craft.sheet_sizes import sheet_name
from workbench.drawing.labels import write_size
from workbench.measure.length import Unit
from workbench.store.drawer_rows import DrawerRow

_SIZE, _FREE, _PLACE = 20, 18, 14
_WIDE = 70
"""Below this the place is not in the row, so that the name is; it is told of the row at hand."""


class StockList(ScrollView, can_focus=True):
    """A cursor over rows that are drawn when they come in sight."""

    BINDINGS: ClassVar[list[BindingType]] = [
        LookUp.binding(),
        LookDown.binding(),
        ("pageup", "page_up", ""),
        ("pagedown", "page_down", ""),
        ("home", "scroll_home", ""),
        ("end", "scroll_end", ""),
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {"stock-list--cursor", "stock-list--offcut"}
    DEFAULT_CSS = """
    StockList { height: 1fr; overflow-x: hidden; }
    StockList > .stock-list--cursor {
        background: $block-cursor-blurred-background; color: $block-cursor-blurred-foreground;
    }
    StockList:focus > .stock-list--cursor {
        background: $block-cursor-background; color: $block-cursor-foreground;
    }
    StockList > .stock-list--offcut { color: $text-muted; }
    """
    cursor: reactive[int] = reactive(0)

    class Moved(Message):
        """Another row is at hand."""

    class Chosen(Message):
        """The row at hand was clicked twice."""

    def __init__(self, *, id: str) -> None:  # noqa: A002 - as Textual calls it
        super().__init__(id=id)
        self._rows: Sequence[DrawerRow] = ()
        self._unit: Unit = "in"
        self._place = 0

    def show(self, rows: Sequence[DrawerRow], unit: Unit) -> None:
        """Show other rows, the cursor on the first of them unless it can stay."""
        self._rows, self._unit = rows, unit
        self._place = _PLACE if any(row.paper.data.lies for row in rows) else 0
        self.virtual_size = Cells(self.size.width, len(rows))
        before, self.cursor = self.cursor, min(self.cursor, max(0, len(rows) - 1))
        self.refresh()
        if self.cursor == before:  # else it is said already
            self.post_message(self.Moved())

    @property
    def at_hand(self) -> DrawerRow | None:
        return self._rows[self.cursor] if self.cursor < len(self._rows) else None

    def watch_cursor(self) -> None:
        self.refresh()
        top, height = round(self.scroll_offset.y), self.scrollable_content_region.height
        if self.cursor < top:
            self.scroll_to(y=self.cursor, animate=False)
        elif height and self.cursor >= top + height:
            self.scroll_to(y=self.cursor - height + 1, animate=False)
        self.post_message(self.Moved())

    def render_line(self, y: int) -> Strip:
        at = y + round(self.scroll_offset.y)
        width = self.scrollable_content_region.width
        if at >= len(self._rows):
            return Strip.blank(width, self.rich_style)
        row = self._rows[at]
        style = self.rich_style
        if row.offcut:
            style += self.get_component_rich_style("stock-list--offcut")
        if at == self.cursor:
            style += self.get_component_rich_style("stock-list--cursor")
        place = self._place if width >= _WIDE else 0
        return Strip([Segment(_line(row, width, self._unit, place), style)], width)

    def action_look_up(self) -> None:
        self._go(-1)

    def action_look_down(self) -> None:
        self._go(1)

    def action_page_up(self) -> None:
        self._go(-self.scrollable_content_region.height)

    def action_page_down(self) -> None:
        self._go(self.scrollable_content_region.height)

    def action_scroll_home(self) -> None:
        self._go(-len(self._rows))

    def action_scroll_end(self) -> None:
        self._go(len(self._rows))

    def on_click(self, event: Click) -> None:
        at = event.y + round(self.scroll_offset.y)
        if at < len(self._rows):
            self.cursor = at
            if event.chain > 1:
                self.post_message(self.Chosen())

    def _go(self, by: int) -> None:
        self.cursor = max(0, min(self.cursor + by, len(self._rows) - 1))


def _line(row: DrawerRow, width: int, unit: Unit, place: int) -> str:
    """The row in `width` cells, the last `place` for where it lies: before, name, size, free."""
    sized = _sized(row.size, unit)
    name = width - _SIZE - _FREE - place
    free = f"{row.counts.on_hand} free"
    if row.counts.reserved:
        free += f", {row.counts.reserved} held"
    said = f"  offcut of {row.paper.data.name}" if row.offcut else row.paper.data.name
    cells = ((said, name), (sized, _SIZE), (free, _FREE), (row.paper.data.lies, place))
    line = "".join(set_cell_size(_clipped(words, size), size) for words, size in cells)
    return set_cell_size(line, width)


def _sized(size: Size, unit: Unit) -> str:
    return sheet_name(size) or write_size(size, unit)


def _clipped(words: str, size: int) -> str:
    from workbench.drawing.canvas import shortened

    return shortened(words, max(1, size - 1))
