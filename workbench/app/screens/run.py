"""The guided run: one step at a time, each tick on disk before the next is shown."""

import math
from collections.abc import Callable
from datetime import UTC, datetime
from time import monotonic
from typing import Any

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import ContentSwitcher, Footer

from workbench.app.app import TrimtallyApp
from workbench.app.commands import (
    CountOne,
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
from workbench.app.screens.news import Kept, Opened, Refused, Seen
from workbench.app.screens.question import Question, TextQuestion
from workbench.app.screens.slip import SlipScreen
from workbench.app.voice import voice_of_this_machine
from workbench.app.widgets.finished import FinishedView
from workbench.app.widgets.progress import ProgressLine
from workbench.app.widgets.prompt import PromptView
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import (
    OutOfTurn,
    State,
    count_one,
    mends,
    progress,
    replay,
    taking_back,
    tick,
    tick_alike,
)
from workbench.making.bench import Bench
from workbench.making.cautions import all_cautions
from workbench.making.events import Event, What
from workbench.making.mends import Way, mending
from workbench.making.pace import in_words, time_left
from workbench.making.prompts import Prompt, prompt
from workbench.making.speech import spoken
from workbench.planning.plan import Plan

# A key that is held down repeats faster than this; in a locked run, even its first repeat does.
BOUNCE_SECONDS = 0.3
LOCKED_SECONDS = 0.8
LOOK_SECONDS = 0.5
BELL, VOICE = "bell", "voice"


class RunScreen(Screen[None]):
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
    app = getters.app(TrimtallyApp)

    def __init__(self, batch_id: int) -> None:
        super().__init__()
        self._batch_id = batch_id
        self._begun: Bench | None = None
        self._bench: Bench | None = None
        self._trimmer = Trimmer()
        self._events: tuple[Event, ...] = ()
        self._keeping = False
        self._pressed_at = self._shown_at = -math.inf
        self._ahead = 0
        self._signals = {BELL: False, VOICE: False}
        self._slip_at = 0
        self._stamp: tuple[int, ...] = ()
        self.locked = False

    def compose(self) -> ComposeResult:
        yield ProgressLine(id="progress")
        with ContentSwitcher(initial="prompt"):
            yield PromptView(id="prompt")
            yield FinishedView(id="finished")
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        self.watch(self.app, "unit", self._show, init=False)
        self.set_interval(LOOK_SECONDS, self._look)
        self._open()

    @property
    def _state(self) -> State:
        assert self._begun
        return replay(self._begun.plan, self._events)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if self.locked and action not in (Tick.name, Lock.name):
            return False
        return super().check_action(action, parameters)

    # What the maker does

    @on(PromptView.Clicked)
    def action_tick(self) -> None:
        if self._bench is None or self._bounces():
            return
        if self._state.paused:
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
        if self._bench:
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
        if self._bench:
            words = "\n\n".join(all_cautions(self._bench, self._trimmer))
            self.app.push_screen(Question(words, {"read": "Read"}))

    def action_say_wrong(self) -> None:
        if self._bench and not self._state.paused:
            self._slip_at = len(self._events)
            unit = self.app.unit
            graduation = self._trimmer.graduations[unit]
            slip = SlipScreen(self._bench, self._state, self._trimmer, graduation)
            self.app.push_screen(slip, self._mend)

    def _mend(self, way: Way | None) -> None:
        if way is None:
            return
        if self._slip_at == len(self._events):
            self._happen(lambda _, at: mending(way, at))
        else:
            self.app.say_wrong("Another window has gone on meanwhile; say again what went wrong.")

    def action_switch_bell(self) -> None:
        self._switch(BELL, "The bell rings at every step.", "The bell is silent.")

    def action_switch_voice(self) -> None:
        if voice_of_this_machine() is None:
            self.notify("This computer has no command that speaks.", markup=False)
        else:
            self._switch(VOICE, "Every step is said aloud.", "Nothing is said aloud.")

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

    def _at_hand(self, event_for: Callable[[Plan], Callable[[State, datetime], Event]]) -> None:
        """Do it to the step at hand; while another is looked at, or paused, come back first."""
        if self._bench is None:
            return
        if self._ahead or self._state.paused:
            self.action_tick()
        else:
            self._happen(event_for(self._bench.plan))

    def _look_from(self, ahead: int) -> None:
        if self._bench:
            left = self._state.steps - self._state.done - 1
            self._ahead = max(0, min(ahead, left))
            self._show()

    def _switch(self, signal: str, on: str, off: str) -> None:
        self._signals[signal] = not self._signals[signal]
        self.notify(on if self._signals[signal] else off, markup=False)
        self._keep_setting(signal, self._signals[signal])

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
            workshop = self.app.workshop
            self._stamp = workshop.stamp
            batch = workshop.batch(self._batch_id)
            signals = {signal: workshop.setting(signal) is True for signal in (BELL, VOICE)}
            self.post_message(Opened(batch, workshop.trimmer(), signals))
        except StoreError as error:
            self.post_message(Refused(str(error)))

    @work(thread=True)
    def _keep(self, event: Event, seq: int) -> None:
        from workbench.store.faults import StoreError
        from workbench.store.workshop import Overtaken

        try:
            self.app.workshop.append(self._batch_id, event, seq)
            self.post_message(Kept(event))
        except Overtaken as error:
            self.post_message(Refused(str(error)))
            self._open()
        except StoreError as error:
            self.post_message(Refused(str(error)))

    @work(thread=True)
    def _keep_setting(self, key: str, value: Any) -> None:
        from workbench.store.faults import StoreError

        try:
            self.app.workshop.set_setting(key, value)
        except StoreError as error:
            self.post_message(Refused(str(error)))

    def _look(self) -> None:
        """See what another window has done with this batch since."""
        if self._bench and not self._keeping and self.app.workshop.stamp != self._stamp:
            self._stamp = self.app.workshop.stamp
            self._read_on(len(self._events))

    @work(thread=True, exclusive=True, group="look")
    def _read_on(self, seen: int) -> None:
        from workbench.store.faults import StoreError

        try:
            self.post_message(Seen(seen, self.app.workshop.events(self._batch_id, seen)))
        except StoreError:
            # Whatever is wrong is said when something is to be kept.
            return

    @on(Seen)
    def _follow(self, message: Seen) -> None:
        if message.events and message.after == len(self._events) and not self._keeping:
            self._go_on_with(message.events)

    @on(Opened)
    def _take_up(self, message: Opened) -> None:
        first, self._begun = self._bench is None, Bench(message.batch.project, message.batch.plan)
        self._events = message.batch.events
        self._bench = self._begun.after(self._state)
        self._trimmer = message.trimmer
        self._signals = message.signals
        if first and self.app.session is None:
            self.app.unit = message.batch.project.units
        self._show()

    @on(Kept)
    def _go_on(self, message: Kept) -> None:
        self._keeping = False
        self._go_on_with((message.event,))

    def _go_on_with(self, events: tuple[Event, ...]) -> None:
        assert self._begun and self._bench
        self._events += events
        state = self._state
        self._bench = self._bench.after(state) if state.mend else self._begun
        self._ahead = 0
        self._shown_at = monotonic()
        self._show()
        self._signal()

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
        left = time_left(self._bench.plan, state, self._events)
        instead = self._instead(state)
        time = f"{in_words(left)} left" if left is not None else ""
        self.query_one(ProgressLine).show(self._bench.project.title, now, time, instead)
        self.set_class(state.paused, "paused")
        said = self._said()
        self.query_one(ContentSwitcher).current = "prompt" if said else "finished"
        if said:
            sheet = progress(self._bench.plan, state.ahead(self._ahead)).sheet
            self.query_one(PromptView).show(self._bench, said, graduation, sheet)
        else:
            self.query_one(FinishedView).show(self._bench, graduation, self._events, mends(state))

    def _said(self) -> Prompt | None:
        assert self._bench
        graduation = self._trimmer.graduations[self.app.unit]
        return prompt(self._bench, self._state.ahead(self._ahead), graduation, self._trimmer)

    def _instead(self, state: State) -> str:
        """What the progress line has to say before anything else."""
        if self.locked:
            return f"step {state.current or state.steps} of {state.steps}, locked: F9 unlocks"
        if state.paused:
            return "paused: space goes on"
        if self._ahead:
            return f"only looking, at step {state.done + 1 + self._ahead}: space comes back"
        return ""

    def _signal(self) -> None:
        if self._signals[BELL]:
            self.app.bell()
        voice = voice_of_this_machine() if self._signals[VOICE] else None
        said = self._said()
        if voice and said:
            voice.say(spoken(said, self.app.unit))
