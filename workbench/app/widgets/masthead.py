"""The top line of a page: the doors to the others, the project's title, the unit shown."""

from textual import events, getters
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from workbench.app.base import WorkbenchApp
from workbench.app.commands import ShowCombinations, ShowGuide, ShowPieces, ShowStock, ShowTrimming
from workbench.app.session import Session
from workbench.measure.length import Unit

DOORS = {
    "stock": ShowStock,
    "pieces": ShowPieces,
    "trimming": ShowTrimming,
    "combinations": ShowCombinations,
    "guide": ShowGuide,
}
"""By the name of the page, in the order they stand in, the command that goes there."""


class Door(Static):
    """The name of a page, to be clicked."""

    class Opened(Message):
        """The maker wants to go to that page."""

        def __init__(self, page: str) -> None:
            super().__init__()
            self.page = page

    def __init__(self, key: str, page: str, *, here: bool) -> None:
        super().__init__(Content(f" {key} {page.capitalize()} "), classes="here" if here else "")
        self.page = page

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Opened(self.page))


class Masthead(Horizontal):
    """Keeps its place at the top; `show` fills it."""

    DEFAULT_CSS = """
    Masthead { height: 1; background: $panel; }
    Masthead Door { width: auto; color: $text-muted; }
    Masthead Door:hover { background: $surface; }
    Masthead Door.here { color: $foreground; text-style: bold reverse; }
    Masthead #title { width: 1fr; text-align: right; text-overflow: ellipsis; text-wrap: nowrap; }
    Masthead #unit { width: auto; padding: 0 1; text-style: bold; }
    """

    app = getters.app(WorkbenchApp)

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page

    def compose(self) -> ComposeResult:
        for page, command in DOORS.items():
            yield Door(self.app.key_of(command), page, here=page == self.page)
        yield Static(id="title", markup=False)
        yield Static(id="unit", markup=False)

    def show(self, session: Session, unit: Unit) -> None:
        # The mark comes first, as a long title is cut off at its end.
        mark = "(not saved) " if session.changed else ""
        self.query_one("#title", Static).update(Content(mark + session.project.title))
        self.query_one("#unit", Static).update(Content("inches" if unit == "in" else unit))
