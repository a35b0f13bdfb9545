"""A batch as the bench keeps it: read, added to and followed in threads, which post messages."""

import gc
from collections.abc import Callable
from contextlib import ExitStack, suppress
from datetime import UTC, datetime
from functools import partial
from typing import TYPE_CHECKING

from textual.screen import Screen

from workbench.app.messages import Kept, Opened, Refused, Seen
from workbench.making.batch import BatchState, applied, replay
from workbench.making.events import Event
from workbench.making.history import History, history_of
from workbench.making.plan_index import PlanIndex

if TYPE_CHECKING:
    from workbench.store.batch_rows import Batch
    from workbench.store.database import Workshop

EventOf = Callable[[BatchState, datetime], Event]


class BatchSession:
    """The batch with that id. Messages of it reach `screen`, which hands them back to be taken up.

    Until something is on disk nothing else can happen. Before `taken_up` there is no `index`.
    """

    def __init__(self, screen: Screen[None], batch_id: int) -> None:
        self._screen, self._batch_id = screen, batch_id
        self._stamp: tuple[int, ...] = ()
        self._held = ExitStack()
        self._keeping = False
        self._begun: PlanIndex | None = None
        self.batch: Batch | None = None
        self.index: PlanIndex | None = None
        self.events: tuple[Event, ...] = ()
        self.state = BatchState(0)

    @property
    def _workshop(self) -> "Workshop":
        workshop: Workshop = self._screen.app.workshop  # type: ignore[attr-defined]
        return workshop

    @property
    def history(self) -> History:
        """Its record, once it is taken up."""
        assert self.batch
        return history_of(self.batch.started, self.batch.project, self.batch.plan, self.events)

    def open(self) -> None:
        """Read it from disk, or read it again."""
        from workbench.store.errors import StoreError

        self.close()
        with suppress(StoreError):  # said by whoever needs the file next
            self._held.enter_context(self._workshop.held())
        self._in_thread(self._open)

    def close(self) -> None:
        """Let go of the file, which is held open so that a tick is kept quickly."""
        self._held.close()
        gc.unfreeze()

    def happen(self, event_of: EventOf) -> None:
        """Keep what happens to it now. Raises StepNotReady where it cannot."""
        if self.index is None or self._keeping:
            return
        event = event_of(self.state, datetime.now(UTC))
        self._keeping = True
        self._in_thread(partial(self._keep, event, len(self.events) + 1))

    def look(self) -> None:
        """See what another window has done with it since."""
        if self.index and not self._keeping and self._workshop.stamp != self._stamp:
            self._stamp = self._workshop.stamp
            self._screen.run_worker(
                partial(self._read_on, len(self.events)), thread=True, exclusive=True, group="look"
            )

    # What the messages bring

    def take_up(self, batch: "Batch") -> None:
        self.batch = batch
        self._begun = PlanIndex(batch.project, batch.plan)
        self.events, self.state = batch.events, replay(batch.plan, batch.events)
        self.index = self._begun.after(self.state)
        # A plan is many things that stay: looking through them all again delays a tick.
        gc.freeze()

    def go_on_with(self, events: tuple[Event, ...]) -> None:
        assert self._begun and self.index
        self._keeping = False
        self.events += events
        for event in events:
            self.state = applied(self.state, event)
        self.index = self.index.after(self.state) if self.state.recovery else self._begun

    def is_next(self, message: Seen) -> bool:
        return bool(message.events) and message.after == len(self.events) and not self._keeping

    def stay(self) -> None:
        """Nothing was written."""
        self._keeping = False

    # In threads

    def _in_thread(self, work: Callable[[], None]) -> None:
        self._screen.run_worker(work, thread=True)

    def _open(self) -> None:
        from workbench.store.errors import StoreError

        try:
            self._stamp = self._workshop.stamp
            self._screen.post_message(Opened(self._workshop.batch(self._batch_id)))
        except StoreError as error:
            self._screen.post_message(Refused(str(error)))

    def _keep(self, event: Event, seq: int) -> None:
        from workbench.store.database import ConflictError
        from workbench.store.errors import StoreError

        try:
            self._workshop.append(self._batch_id, event, seq)
            self._screen.post_message(Kept(event))
        except ConflictError as error:
            self._screen.post_message(Refused(str(error)))
            self._open()
        except StoreError as error:
            self._screen.post_message(Refused(str(error)))

    def _read_on(self, seen: int) -> None:
        from workbench.store.errors import StoreError

        try:
            self._screen.post_message(Seen(seen, self._workshop.events(self._batch_id, seen)))
        except StoreError:
            # Whatever is wrong is said when something is to be kept.
            return
