"""Where a batch stands: the replay of its events over its plan."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import reduce

from workbench.making.events import Event, Recovery
from workbench.planning import Assemble, Cut, Own, Plan, Score, Step


class StepNotReady(ValueError):  # noqa: N818 - a refusal, not a fault
    """Raised when there is nothing left to tick, or nothing to take back; says which."""


@dataclass(frozen=True, slots=True)
class BatchState:
    """Steps are ticked in order, so the `done` ticked ones are always the first of `steps`.

    `counted` parts of the step at hand are done one by one. After a mistake, `recovery` holds the
    project and plan that are worked by. `before` is the state that taking back restores. Once
    `abandoned`, nothing more can be ticked.
    """

    steps: int
    done: int = 0
    counted: int = 0
    paused: bool = False
    abandoned: bool = False
    recovery: Recovery | None = None
    before: "BatchState | None" = field(default=None, compare=False, repr=False)

    @property
    def finished(self) -> bool:
        """Whether every step is ticked."""
        return self.done == self.steps

    @property
    def current(self) -> int | None:
        """The number of the step to do now, None when all are ticked."""
        return None if self.finished else self.done + 1

    @property
    def touched(self) -> int:
        """The number of the step that was ticked or counted last."""
        return self.done + (self.counted > 0)

    def ticked(self, step: int) -> bool:
        """Whether step number `step` is done."""
        return 1 <= step <= self.done

    def ahead(self, by: int) -> "BatchState":
        """As if `by` more steps were ticked, so that one can look ahead."""
        return BatchState(self.steps, min(self.done + by, self.steps)) if by else self


@dataclass(frozen=True, slots=True)
class Tally:
    """How many of a kind of thing are done, `done`, and how many there are, `of`."""

    done: int
    of: int

    @property
    def left(self) -> int:
        """How many of them are still to be done."""
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


def begun(plan: Plan) -> BatchState:
    """The state of a batch of which nothing is done yet."""
    return BatchState(len(plan.steps))


def applied(state: BatchState, event: Event) -> BatchState:
    """The state after `event`. An event out of turn (doubled, or foreign) changes nothing."""
    if event.what == "taken back":
        return state.before or state if event.step == state.touched else state
    if event.what in ("paused", "went on"):
        return replace(state, paused=event.what == "paused")
    return state if state.abandoned else _further(state, event)


def _further(state: BatchState, event: Event) -> BatchState:
    at_hand = event.step == state.current
    through = event.what == "ticked through" and state.done < event.step <= state.steps
    if through or (event.what == "ticked" and at_hand):
        return replace(state, done=event.step, counted=0, before=state)
    if event.what == "counted" and at_hand:
        return replace(state, counted=state.counted + 1, before=state)
    if event.what == "mended" and event.recovery:
        recovery = event.recovery
        return recovered(state, len(recovery.plan.steps), recovery.done, recovery)
    if event.what == "abandoned":
        return replace(state, abandoned=True, before=state)
    return state


def recovered(
    state: BatchState, steps: int, done: int, recovery: Recovery | None = None
) -> BatchState:
    """The state after a way on is chosen; whoever only counts steps needs no more of it."""
    if state.abandoned:
        return state
    return BatchState(steps, done, recovery=recovery, before=state)


def replay(plan: Plan, events: Iterable[Event]) -> BatchState:
    """Where a batch stands that was begun by `plan`, after its events in order."""
    return reduce(applied, events, begun(plan))


def recoveries(state: BatchState) -> tuple[Recovery, ...]:
    """The recoveries that stand, the first one first."""
    found: list[Recovery] = []
    earlier: BatchState | None = state
    while earlier:
        if earlier.recovery and (not found or earlier.recovery is not found[-1]):
            found.append(earlier.recovery)
        earlier = earlier.before
    return tuple(reversed(found))


def tick(state: BatchState, at: datetime) -> Event:
    """The event that ticks the step at hand. Raises StepNotReady when all are ticked."""
    return Event("ticked", _at_hand(state), at)


def tick_alike(plan: Plan, state: BatchState, at: datetime) -> Event:
    """Ticks the step at hand and all like it before the guide moves. Raises StepNotReady."""
    step = plan.steps[_at_hand(state) - 1]
    return Event("ticked through", setting(plan, step)[-1].n, at)


def count_one(plan: Plan, state: BatchState, at: datetime) -> Event:
    """Counts one part of the step at hand; the last, or a cut, ticks it. Raises StepNotReady."""
    step = plan.steps[_at_hand(state) - 1]
    last = isinstance(step, Cut | Assemble) or state.counted + 1 >= len(step.takes)
    return Event("ticked" if last else "counted", step.n, at)


def taking_back(state: BatchState, at: datetime) -> Event:
    """The event that takes back the last one. Raises StepNotReady when there is none."""
    if state.before is None:
        raise StepNotReady("No step is ticked yet.")
    return Event("taken back", state.touched, at)


def abandoning(state: BatchState, at: datetime) -> Event:
    """The event that gives the batch up as it stands. Raises StepNotReady when it is over."""
    if state.abandoned or state.finished:
        raise StepNotReady("The batch is over already.")
    return Event("abandoned", state.touched, at)


def _at_hand(state: BatchState) -> int:
    if state.abandoned:
        raise StepNotReady("The batch is abandoned; take that back to go on with it.")
    if state.current is None:
        raise StepNotReady("Every step is ticked already.")
    return state.current


def progress(plan: Plan, state: BatchState) -> Progress:
    """How much is done, in steps, in cuts and around the cut at hand."""
    step = None if state.finished else plan.steps[state.done]
    at_hand = step if isinstance(step, Cut) else None
    cuts = plan.cuts
    return Progress(
        steps=Tally(state.done, state.steps),
        cuts=_tally(cuts, state),
        sheet=_tally(_on_same_sheets(cuts, at_hand), state) if at_hand else None,
        setting=_tally(setting(plan, at_hand), state) if at_hand else None,
    )


def all_cut(plan: Plan, state: BatchState) -> bool:
    """Whether there were cuts, and none is left."""
    cuts = plan.cuts
    return bool(cuts) and state.ticked(cuts[-1].n)


def setting(plan: Plan, step: Step) -> Sequence[Step]:
    """The unbroken run of like steps around `step` that share its mark."""
    steps, shared = plan.steps, setting_of(step)
    first = last = step.n - 1
    while first > 0 and setting_of(steps[first - 1]) == shared:
        first -= 1
    while last + 1 < len(steps) and setting_of(steps[last + 1]) == shared:
        last += 1
    return steps[first : last + 1]


def setting_of(step: Step) -> object:
    """What like steps share: their kind of work, and the mark of the guide or the name it has."""
    match step:
        case Cut() | Score():
            return type(step), step.mark
        case Own():
            return type(step), step.name
        case _:
            return type(step), None


def _tally(steps: Iterable[Step], state: BatchState) -> Tally:
    ticked = [state.ticked(step.n) for step in steps]
    return Tally(sum(ticked), len(ticked))


def _on_same_sheets(cuts: Sequence[Cut], at_hand: Cut) -> list[Cut]:
    sheets = {part.sheet for part in at_hand.takes}
    return [cut for cut in cuts if not sheets.isdisjoint(part.sheet for part in cut.takes)]
