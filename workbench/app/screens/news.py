"""What the bench hears from the threads that read and write the workshop."""

from typing import TYPE_CHECKING

from textual.message import Message

from workbench.making.events import Event

if TYPE_CHECKING:
    from workbench.store.database import Batch


class Opened(Message):
    """The batch was read, or read again."""

    def __init__(self, batch: "Batch") -> None:
        super().__init__()
        self.batch = batch


class Kept(Message):
    """An event is on disk."""

    def __init__(self, event: Event) -> None:
        super().__init__()
        self.event = event


class Seen(Message):
    """Another window has kept `events` after those that were known."""

    def __init__(self, after: int, events: tuple[Event, ...]) -> None:
        super().__init__()
        self.after = after
        self.events = events


class Refused(Message):
    """Nothing was written; `why` in words."""

    def __init__(self, why: str) -> None:
        super().__init__()
        self.why = why
