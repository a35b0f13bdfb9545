"""The guided run: one step at a time, each tick on disk before the next is shown."""

from collections.abc import Callable
from datetime import UTC, datetime
from time import monotonic
from typing import TYPE_CHECKING

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import ContentSwitcher, Footer

from workbench.app.app import TrimtallyApp
from workbench.app.commands import LeaveBench, LookDown, LookUp, TakeBack, Tick, bindings
from workbench.app.widgets.finished import FinishedView
from workbench.app.widgets.progress import ProgressLine
from workbench.app.widgets.prompt import PromptView
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import OutOfTurn, State, progress, replay, taking_back, tick
from workbench.making.bench import Bench
from workbench.making.events import Event
from workbench.making.prompts import prompt

if TYPE_CHECKING:
    from workbench.store.workshop import Batch

BOUNCE_SECONDS = 0.2


class RunScreen(Screen[None]):
    """Leads through the batch with that id in the workshop."""

    CSS_PATH = "run.tcss"
    BINDINGS = bindings((Tick, TakeBack, LeaveBench, LookUp, LookDown))
    ABOUT = (
        "One step at a time. Set the guide to the large figure, make the cut, tick it. Every tick"
        " is kept at once: leave whenever you like and go on later at the same step."
    )
    app = getters.app(TrimtallyApp)

    class Opened(Message):
        """The batch was read, or read again."""

        def __init__(self, batch: "Batch", trimmer: Trimmer) -> None:
            super().__init__()
            self.batch = batch
            self.trimmer = trimmer

    class Kept(Message):
        """An event is on disk."""

        def __init__(self, event: Event) -> None:
            super().__init__()
            self.event = event

    class Refused(Message):
        """Nothing was written; `why` in words."""

        def __init__(self, why: str) -> None:
            super().__init__()
            self.why = why

    def __init__(self, batch_id: int) -> None:
        super().__init__()
        self._batch_id = batch_id
        self._bench: Bench | None = None
        self._trimmer = Trimmer()
        self._events: tuple[Event, ...] = ()
        self._keeping = False
        self._shown_at = 0.0

    def compose(self) -> ComposeResult:
        yield ProgressLine(id="progress")
        with ContentSwitcher(initial="prompt"):
            yield PromptView(id="prompt")
            yield FinishedView(id="finished")
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        self.watch(self.app, "unit", self._show, init=False)
        self._open()

    @property
    def _state(self) -> State:
        assert self._bench
        return replay(self._bench.plan, self._events)

    # What the maker does

    @on(PromptView.Clicked)
    def action_tick(self) -> None:
        # A second press at once is the finger bouncing, not another cut made.
        if monotonic() - self._shown_at >= BOUNCE_SECONDS:
            self._happen(tick)

    def action_take_back(self) -> None:
        self._happen(taking_back)

    def action_look_up(self) -> None:
        for area in self.query(VerticalScroll):
            area.scroll_up()

    def action_look_down(self) -> None:
        for area in self.query(VerticalScroll):
            area.scroll_down()

    def action_leave_bench(self) -> None:
        self.dismiss()

    def _happen(self, event_of: Callable[[State, datetime], Event]) -> None:
        """Keep what happened. Until it is on disk nothing else can happen."""
        if self._bench is None or self._keeping:
            return
        try:
            event = event_of(self._state, datetime.now(UTC))
        except OutOfTurn as why:
            self.notify(str(why), markup=False)
            return
        self._keeping = True
        self._keep(event, len(self._events) + 1)

    # The workshop, in threads

    @work(thread=True)
    def _open(self) -> None:
        from workbench.store.faults import StoreError

        try:
            batch = self.app.workshop.batch(self._batch_id)
            self.post_message(self.Opened(batch, self.app.workshop.trimmer()))
        except StoreError as error:
            self.post_message(self.Refused(str(error)))

    @work(thread=True)
    def _keep(self, event: Event, seq: int) -> None:
        from workbench.store.faults import StoreError
        from workbench.store.workshop import Overtaken

        try:
            self.app.workshop.append(self._batch_id, event, seq)
            self.post_message(self.Kept(event))
        except Overtaken as error:
            self.post_message(self.Refused(str(error)))
            self._open()
        except StoreError as error:
            self.post_message(self.Refused(str(error)))

    @on(Opened)
    def _take_up(self, message: Opened) -> None:
        first, self._bench = self._bench is None, Bench(message.batch.project, message.batch.plan)
        self._events = message.batch.events
        self._trimmer = message.trimmer
        if first and self.app.session is None:
            self.app.unit = message.batch.project.units
        self._show()

    @on(Kept)
    def _go_on(self, message: Kept) -> None:
        self._keeping = False
        self._events += (message.event,)
        self._shown_at = monotonic()
        self._show()

    @on(Refused)
    def _stay(self, message: Refused) -> None:
        self._keeping = False
        self.app.say_wrong(message.why)
        if self._bench is None:
            self.dismiss()

    # The screen

    def _show(self) -> None:
        if self._bench is None:
            return
        state, graduation = self._state, self._trimmer.graduations[self.app.unit]
        now = progress(self._bench.plan, state)
        self.query_one(ProgressLine).show(self._bench.project.title, now)
        said = prompt(self._bench, state, graduation, self._trimmer)
        self.query_one(ContentSwitcher).current = "prompt" if said else "finished"
        if said:
            self.query_one(PromptView).show(self._bench, said, graduation, now.sheet)
        else:
            self.query_one(FinishedView).show(self._bench, graduation)
