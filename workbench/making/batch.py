"""Where a batch stands: the replay of its events over its plan."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import reduce

from workbench.making.events import Event
from workbench.planning.plan import Plan, Step


class OutOfTurn(ValueError):  # noqa: N818 - a refusal, not a fault
    """Raised when there is nothing left to tick, or nothing to take back; says which."""


@dataclass(frozen=True, slots=True)
class State:
    """Steps are ticked in order, so the `done` ticked ones are always the first of `steps`."""

    steps: int
    done: int = 0

    @property
    def finished(self) -> bool:
        return self.done == self.steps

    @property
    def current(self) -> int | None:
        """The number of the step to do now, None when all are ticked."""
        return None if self.finished else self.done + 1

    def ticked(self, step: int) -> bool:
        return 1 <= step <= self.done


@dataclass(frozen=True, slots=True)
class Tally:
    """How many are done, of how many."""

    done: int
    of: int

    @property
    def left(self) -> int:
        return self.of - self.done


@dataclass(frozen=True, slots=True)
class Progress:
    """`sheet` counts the cuts of the sheets at hand, `setting` those before the guide moves on.

    Both are None when the step at hand is not a cut.
    """

    steps: Tally
    cuts: Tally
    sheet: Tally | None
    setting: Tally | None


def begun(plan: Plan) -> State:
    return State(len(plan.steps))


def applied(state: State, event: Event) -> State:
    """The state after `event`. An event out of turn (doubled, or foreign) changes nothing."""
    if event.what == "ticked" and event.step == state.current:
        return replace(state, done=state.done + 1)
    if event.what == "taken back" and event.step == state.done > 0:
        return replace(state, done=state.done - 1)
    return state


def replay(plan: Plan, events: Iterable[Event]) -> State:
    return reduce(applied, events, begun(plan))


def tick(state: State, at: datetime) -> Event:
    """The event that ticks the step at hand. Raises OutOfTurn when all are ticked."""
    if state.current is None:
        raise OutOfTurn("Every step is ticked already.")
    return Event("ticked", state.current, at)


def taking_back(state: State, at: datetime) -> Event:
    """The event that takes back the last tick. Raises OutOfTurn when there is none."""
    if not state.done:
        raise OutOfTurn("No step is ticked yet.")
    return Event("taken back", state.done, at)


def progress(plan: Plan, state: State) -> Progress:
    cuts = [step for step in plan.steps if step.do == "cut"]
    step = None if state.finished else plan.steps[state.done]
    at_hand = step if step and step.do == "cut" else None
    return Progress(
        steps=Tally(state.done, state.steps),
        cuts=_tally(cuts, state),
        sheet=_tally(_on_same_sheets(plan, cuts, at_hand), state) if at_hand else None,
        setting=_tally(setting(plan, at_hand), state) if at_hand else None,
    )


def setting(plan: Plan, step: Step) -> Sequence[Step]:
    """The unbroken run of like steps around `step` that share its mark."""
    at = plan.steps.index(step)
    first = last = at
    while first > 0 and _same_setting(plan.steps[first - 1], step):
        first -= 1
    while last + 1 < len(plan.steps) and _same_setting(plan.steps[last + 1], step):
        last += 1
    return plan.steps[first : last + 1]


def _same_setting(one: Step, other: Step) -> bool:
    return one.do == other.do and one.mark == other.mark


def _tally(steps: Iterable[Step], state: State) -> Tally:
    ticked = [state.ticked(step.n) for step in steps]
    return Tally(sum(ticked), len(ticked))


def _on_same_sheets(plan: Plan, cuts: Sequence[Step], step: Step) -> list[Step]:
    sheet_of: dict[str, str] = {sheet.id: sheet.id for sheet in plan.sheets}
    for cut in cuts:
        for taken, pair in zip(cut.takes, cut.gives, strict=True):
            for part in pair:
                sheet_of[part] = sheet_of[taken]
    sheets = {sheet_of[part] for part in step.takes}
    return [cut for cut in cuts if sheets & {sheet_of[part] for part in cut.takes}]
