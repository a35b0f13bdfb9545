"""The top line of a room: the doors to the others, the project's title, the unit shown."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from workbench.app.session import Session
from workbench.measure.length import Unit

ROOMS = {"1": "Stock", "2": "Pieces", "3": "Trimming", "4": "Combinations"}


class Door(Static):
    """The name of a room, to be clicked."""

    class Opened(Message):
        def __init__(self, room: str) -> None:
            super().__init__()
            self.room = room

    def __init__(self, key: str, room: str, *, here: bool) -> None:
        super().__init__(Content(f" {key} {room} "), classes="here" if here else "")
        self.room = room

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Opened(self.room.lower()))


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

    def __init__(self, room: str) -> None:
        super().__init__()
        self.room = room

    def compose(self) -> ComposeResult:
        for key, name in ROOMS.items():
            yield Door(key, name, here=name.lower() == self.room)
        yield Static(id="title", markup=False)
        yield Static(id="unit", markup=False)

    def show(self, session: Session, unit: Unit) -> None:
        # The mark comes first, as a long title is cut off at its end.
        mark = "(not saved) " if session.changed else ""
        self.query_one("#title", Static).update(Content(mark + session.project.title))
        self.query_one("#unit", Static).update(Content("inches" if unit == "in" else unit))
