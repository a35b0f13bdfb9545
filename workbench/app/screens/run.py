"""The guided run: one step at a time, each tick on disk before the next is shown."""

import math
from collections.abc import Callable
from datetime import datetime
from time import monotonic
from typing import TYPE_CHECKING

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import ContentSwitcher

from workbench.app.base import WorkbenchApp
from workbench.app.batch_session import BatchSession, EventOf
from workbench.app.commands import (
    CountOne,
    KeepOffcuts,
    LeaveBench,
    Lock,
    LookAhead,
    LookBack,
    LookDown,
    LookUp,
    Pause,
    ReadCautions,
    SayWrong,
    SwitchBell,
    SwitchVoice,
    TakeBack,
    Tick,
    TickAlike,
    WriteNote,
    bindings,
)
from workbench.app.messages import Kept, Opened, Refused, Seen
from workbench.app.screens.bench_signals import signal, switch_bell, switch_voice
from workbench.app.views import View
from workbench.app.walk import walk_words
from workbench.app.widgets.finished import FinishedView
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.progress import ProgressLine
from workbench.app.widgets.prompt import Asides, PromptView
from workbench.app.widgets.questions import Question, TextQuestion
from workbench.making.batch import (
    BatchState,
    StepNotReady,
    all_cut,
    count_one,
    progress,
    taking_back,
    tick,
    tick_alike,
)
from workbench.making.cautions import all_cautions
from workbench.making.events import Event, What
from workbench.making.history import notes_at_hand
from workbench.making.pace import in_words, time_left
from workbench.making.prompts import Prompt, prompt
from workbench.making.stock_update import Leftovers, StockTake, used_in_words
from workbench.measure.writing import Graduation
from workbench.planning import Cut, Plan

if TYPE_CHECKING:
    from workbench.making.recovery import Way

# A key that is held down repeats faster than this; in a locked run, even its first repeat does.
BOUNCE_SECONDS = 0.3
LOCKED_SECONDS = 0.8
LOOK_SECONDS = 0.5
REMARK_SECONDS = 4
_ASIDE = ("noted", "stocked", "paused", "went on")
WAY_BACK = "The way on is taken back"
BOUNCED = "Pressed too soon after the last: not ticked"


class RunScreen(View[None]):
    """Leads through the batch with that id in the workshop."""

    CSS_PATH = "run.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-wide")]  # noqa: RUF012 - as Screen has it
    BINDINGS = bindings(
        (
            Tick,
            TakeBack,
            SayWrong,
            LookAhead,
            LookBack,
            TickAlike,
            CountOne,
            Pause,
            KeepOffcuts,
            Lock,
            LeaveBench,
            WriteNote,
            ReadCautions,
            SwitchBell,
            SwitchVoice,
            LookUp,
            LookDown,
        )
    )
    ABOUT = (
        "One step at a time. Set the guide to the large figure, make the cut, tick it. Every tick"
        " is kept at once: leave whenever you like and go on later at the same step."
    )
    app = getters.app(WorkbenchApp)

    def __init__(self, batch_id: int) -> None:
        super().__init__()
        self._batch = BatchSession(self, batch_id)
        self._pressed_at = self._shown_at = -math.inf
        self._ahead = 0
        self._remark = ""
        self._leftovers: Leftovers | None = None
        self._over = self._resumed = False
        self._slip_at = 0
        self.locked = False

    def compose(self) -> ComposeResult:
        yield ProgressLine(id="progress")
        with ContentSwitcher(initial="prompt"):
            yield PromptView(id="prompt")
            yield FinishedView(id="finished")
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        self.watch(self.app, "unit", self._show, init=False)
        self.watch(self.app, "preferences", self._show, init=False)
        self.set_interval(LOOK_SECONDS, self._batch.look)
        self._batch.open()
        if self.app.walking:
            self.app.put_notices_away()
            self._remark = walk_words(self.app, "run")

    def on_unmount(self) -> None:
        self._batch.close()

    @property
    def _state(self) -> BatchState:
        return self._batch.state

    @property
    def _graduation(self) -> Graduation:
        return self.app.trimmer().graduations[self.app.unit]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if self.locked and action not in (Tick.name, Lock.name):
            return False
        if action == KeepOffcuts.name:
            return self._leftovers is not None
        if action == Tick.name:
            return not self._over
        return super().check_action(action, parameters)

    # What the maker does

    @on(PromptView.Clicked)
    def action_tick(self) -> None:
        if self._batch.index is None:
            return
        if self._bounces():
            if self._remark != BOUNCED:
                self._say(BOUNCED)
        elif self._state.paused:
            self._happen(lambda state, at: Event("went on", state.done, at))
        elif self._ahead:
            self._look_from(0)
        else:
            self._happen(tick)

    def action_tick_alike(self) -> None:
        self._at_hand(lambda plan: lambda state, at: tick_alike(plan, state, at))

    def action_count_one(self) -> None:
        self._at_hand(lambda plan: lambda state, at: count_one(plan, state, at))

    def action_take_back(self) -> None:
        self._at_hand(lambda _: taking_back)

    def action_look_ahead(self) -> None:
        self._look_from(self._ahead + 1)

    def action_look_back(self) -> None:
        self._look_from(self._ahead - 1)

    def action_pause(self) -> None:
        if self._batch.index:
            what: What = "went on" if self._state.paused else "paused"
            self._happen(lambda state, at: Event(what, state.done, at))

    def action_lock(self) -> None:
        self.locked = not self.locked
        self.refresh_bindings()
        self._show()

    def action_write_note(self) -> None:
        self.app.push_screen(TextQuestion("A note to keep with this batch"), self._keep_note)

    def _keep_note(self, note: str | None) -> None:
        if note:
            self._happen(lambda state, at: Event("noted", state.done, at, note=note))

    def action_read_cautions(self) -> None:
        if self._batch.index:
            words = "\n\n".join(all_cautions(self._batch.index, self.app.trimmer()))
            self.app.push_screen(Question(words, {"read": "Read"}))

    def action_keep_offcuts(self) -> None:
        if self._leftovers and self._batch.index:
            from workbench.app.screens.offcuts_form import OffcutsForm

            used = used_in_words(self._batch.index)
            form = OffcutsForm(self._leftovers, used, self._graduation)
            self.app.push_screen(form, self._stock)

    def _stock(self, take: StockTake | None) -> None:
        if take:
            self._put_in_stock(take)

    @work
    async def _put_in_stock(self, take: StockTake) -> None:
        from workbench.app.stocking import put_in_stock

        batch, index = self._batch.batch, self._batch.index
        kept = await put_in_stock(self.app, batch, index, take) if batch and index else None
        if kept:
            offcuts = kept.offcuts
            self._happen(lambda state, at: Event("stocked", state.done, at, offcuts=offcuts))

    def action_say_wrong(self) -> None:
        if self._state.paused:
            self.action_tick()
        elif self._batch.index:
            from workbench.app.screens.slip import SlipScreen  # brings the planner

            self._slip_at = len(self._batch.events)
            slip = SlipScreen(
                self._batch.index, self._state, self.app.kept_preferences(), self._graduation
            )
            self.app.push_screen(slip, self._mend)

    def _mend(self, way: "Way | None") -> None:
        from workbench.making.recovery import choosing

        if way is None:
            return
        if self._slip_at == len(self._batch.events):
            self._happen(lambda _, at: choosing(way, at))
        else:
            self.app.say_wrong("Another window has gone on meanwhile; say again what went wrong.")

    def action_switch_bell(self) -> None:
        if remark := switch_bell(self.app):
            self._say(remark)

    def action_switch_voice(self) -> None:
        if remark := switch_voice(self.app):
            self._say(remark)

    def action_look_up(self) -> None:
        for area in self.query(VerticalScroll):
            area.scroll_up()

    def action_look_down(self) -> None:
        for area in self.query(VerticalScroll):
            area.scroll_down()

    def action_leave_bench(self) -> None:
        self.dismiss()

    def _bounces(self) -> bool:
        """Whether this press is the finger bouncing, or a key held down, and not another cut."""
        quiet = LOCKED_SECONDS if self.locked else BOUNCE_SECONDS
        last, self._pressed_at = max(self._pressed_at, self._shown_at), monotonic()
        return self._pressed_at - last < quiet

    def _at_hand(self, event_for: Callable[[Plan], EventOf]) -> None:
        """Do it to the step at hand; while another is looked at, or paused, come back first."""
        if self._batch.index is None:
            return
        if self._ahead or self._state.paused:
            self.action_tick()
        else:
            self._happen(event_for(self._batch.index.plan))

    def _look_from(self, ahead: int) -> None:
        if self._state.paused:
            self.action_tick()
        elif self._batch.index:
            left = self._state.steps - self._state.done - 1
            self._ahead = max(0, min(ahead, left))
            self._show()

    def _happen(self, event_of: Callable[[BatchState, datetime], Event]) -> None:
        try:
            self._batch.happen(event_of)
        except StepNotReady as why:
            self._say(str(why).rstrip("."))

    def _look_for_leftovers(self) -> None:
        """What can be put in the stock now, None where that is nothing, or was done."""
        index, before = self._batch.index, (self._leftovers is None, self._over)
        self._leftovers, self._over = None, index is not None and self._state.finished
        stocked = any(event.what == "stocked" for event in self._batch.events)
        if index and all_cut(index.plan, self._state) and not stocked:
            found = Leftovers.of(index)
            self._leftovers = found if found.lots else None
        if before != (self._leftovers is None, self._over):  # the footer takes longer than a tick
            self.refresh_bindings()

    # What came of it

    @on(Opened)
    def _take_up(self, message: Opened) -> None:
        first = self._batch.index is None
        self._batch.take_up(message.batch)
        if first and self.app.session is None:
            self.app.show_in(message.batch.project.units)
        self._resumed = first and self._state.done > 0
        self._look_for_leftovers()
        self._show()

    @on(Kept)
    def _go_on(self, message: Kept) -> None:
        self._go_on_with((message.event,))

    @on(Seen)
    def _follow(self, message: Seen) -> None:
        if self._batch.is_next(message):
            self._go_on_with(message.events)

    def _go_on_with(self, events: tuple[Event, ...]) -> None:
        chosen = self._state.recovery
        self._batch.go_on_with(events)
        if self.app.walking:
            self.app.walking = False
        self._resumed = self._resumed and all(event.what in _ASIDE for event in events)
        self._ahead = 0
        self._remark = BOUNCED if self._remark == BOUNCED else ""
        self._shown_at = monotonic()
        self._look_for_leftovers()
        self._show()
        if events[-1].what == "taken back" and self._state.recovery is not chosen:
            self._say(WAY_BACK)
        signal(self.app, self._said)

    @on(Refused)
    def _stay(self, message: Refused) -> None:
        self._batch.stay()
        self.app.say_wrong(message.why)
        if self._batch.index is None:
            self.dismiss()

    # The screen

    def _show(self) -> None:
        index, state = self._batch.index, self._state
        if index is None:
            return
        now = progress(index.plan, state)
        left = time_left(index.project, index.plan, state, self._batch.events)
        time = f"{in_words(left)} left" if left is not None else ""
        self.query_one(ProgressLine).show(index.project.title, now, time, self._instead(state))
        self.set_class(state.paused, "paused")
        said = self._said()
        self.query_one(ContentSwitcher).current = "prompt" if said else "finished"
        if said:
            at_hand = progress(index.plan, state.ahead(self._ahead)) if self._ahead else now
            self.query_one(PromptView).show(index, said, self._graduation, at_hand, self._asides())
        else:
            key = self.app.keys_of(KeepOffcuts) if self._leftovers else ""
            self.query_one(FinishedView).show(index, self._graduation, self._batch.history, key)

    def _said(self) -> Prompt | None:
        assert self._batch.index
        state = self._state.ahead(self._ahead)
        resumed = self._resumed and not self._ahead
        trimmer = self.app.trimmer()
        return prompt(self._batch.index, state, self._graduation, trimmer, resumed=resumed)

    def _asides(self) -> Asides:
        """Notes until the next tick; offcuts until the first thing after the cuts is done."""
        index, done = self._batch.index, self._state.done
        if index is None or self._ahead:
            return {}
        said = {"Note": notes_at_hand(self._batch.events)}
        if self._leftovers and (not done or isinstance(index.plan.steps[done - 1], Cut)):
            key = self.app.keys_of(KeepOffcuts)
            said["Offcuts"] = (f"{self._leftovers.in_words}: {key} puts them in the stock.",)
        return said

    def _instead(self, state: BatchState) -> str:
        """What the progress line has to say before anything else."""
        here = f"step {state.current or state.steps} of {state.steps}"
        if self._remark:
            return f"{self._remark}, {here}"
        if self.locked:
            return f"{here}, locked: {self.app.key_of(Lock)} unlocks"
        key = self.app.key_of(Tick)
        if state.paused:
            return f"paused: {key} goes on"
        if self._ahead:
            return f"only looking, at step {state.done + 1 + self._ahead}: {key} comes back"
        return ""

    def _say(self, remark: str) -> None:
        """Say it in the progress line for a moment, where it hides nothing of the prompt."""
        self._remark = remark
        self._show()
        self.set_timer(REMARK_SECONDS, self._unsay)

    def _unsay(self) -> None:
        self._remark = ""
        self._show()
