"""The record of a batch: when it was worked on, how long, what went wrong, what it left."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import accumulate, pairwise, takewhile

from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.making.batch import BatchState, applied, begun, recoveries, replay
from workbench.making.events import Event, Recovery
from workbench.making.pace import at_the_table, longest_before
from workbench.making.words import headline
from workbench.measure.counting import counted, often
from workbench.planning import Own, Plan

_NO_WORK = ("noted", "stocked")
_DAY, _TIME = "%d %B %Y", "%H:%M"


@dataclass(frozen=True, slots=True)
class Sitting:
    """One time at the table, from its first event to its last, and how many steps were done."""

    began: datetime
    ended: datetime
    steps: int


@dataclass(frozen=True, slots=True)
class History:
    """The record of a batch.

    `minutes` were spent at the table in all, pauses left out; `recoveries` are those that stand;
    `finished` is None while steps are left; `stocked` are the offcuts put in the stock. `own` says
    of each step of the maker's own that is done how many times it was.
    """

    started: datetime
    sittings: tuple[Sitting, ...]
    minutes: int
    pauses: int
    recoveries: tuple[Recovery, ...]
    notes: tuple[str, ...]
    stocked: tuple[Offcut, ...]
    finished: datetime | None
    own: Mapping[str, int]


def history_of(started: datetime, project: Project, plan: Plan, events: Sequence[Event]) -> History:
    """The record of a batch of `project` begun at `started` by `plan`."""
    state = replay(plan, events)
    begun_by = plan
    if state.recovery:
        project, plan = state.recovery.project, state.recovery.plan
    worked = [event for event in events if not _afterwards(event, plan)]
    states = accumulate(worked, applied, initial=begun(begun_by))
    # Below nothing where steps were taken back; one that came out wrong is done by the way on.
    steps = [after.done - before.done for before, after in pairwise(states)]
    away = [
        after.at - before.at > longest_before(project, plan, after)
        for before, after in pairwise(worked)
    ]
    return History(
        started=started,
        sittings=tuple(_sittings(worked, steps, away)),
        minutes=round(at_the_table(project, plan, worked).total_seconds() / 60),
        pauses=sum(event.what == "paused" for event in events),
        recoveries=recoveries(state),
        notes=tuple(event.note for event in events if event.note),
        stocked=tuple(offcut for event in events for offcut in event.offcuts),
        finished=_last_tick(events) if state.finished else None,
        own=_own(plan, state),
    )


def notes_at_hand(events: Sequence[Event]) -> tuple[str, ...]:
    """The notes written since the last step was ticked or taken back."""
    since = takewhile(lambda event: event.what in (*_NO_WORK, "paused", "went on"), events[::-1])
    return tuple(event.note for event in since if event.note)[::-1]


def told(history: History) -> Iterator[str]:
    """What happened, apart from when: time at the table, own steps, mistakes, ways on, notes."""
    if history.minutes:
        yield f"{counted(history.minutes, 'minute')} at the table."
    for name, times in history.own.items():
        yield f"{headline(name)}: {often(times)}."
    for each in history.recoveries:
        yield f"Slip, {each.slip}: {each.way[0].lower()}{each.way[1:]}."
    for note in history.notes:
        yield f"Note: {note}"


def dated(history: History) -> Iterator[str]:
    """When it was worked on, in the time of this computer's place."""
    yield f"Started {_at(history.started)}."
    for sitting in history.sittings:
        steps = counted(sitting.steps, "step")
        yield f"At the table {_at(sitting.began)} to {_until(sitting.ended)}: {steps}."
    if history.pauses:
        yield f"Paused {often(history.pauses)}."
    if history.finished:
        yield f"Finished {_at(history.finished)}."


def _own(plan: Plan, state: BatchState) -> Mapping[str, int]:
    """How often each of the maker's own steps was done, by name, in the order of the plan."""
    done: Counter[str] = Counter()
    for step in plan.steps[: state.done]:
        if isinstance(step, Own):
            done[step.name] += len(step.takes)
    return done


def _at(time: datetime) -> str:
    return time.astimezone().strftime(f"{_DAY}, {_TIME}").removeprefix("0")


def _until(time: datetime) -> str:
    return time.astimezone().strftime(_TIME)


def _last_tick(events: Sequence[Event]) -> datetime | None:
    ticks = [event.at for event in events if event.what not in _NO_WORK]
    return ticks[-1] if ticks else None


def _afterwards(event: Event, plan: Plan) -> bool:
    """Whether it is a note, or offcuts put away, when all was done: no work at the table."""
    return event.what in _NO_WORK and event.step >= len(plan.steps)


def _sittings(
    events: Sequence[Event], steps: Sequence[int], away: Sequence[bool]
) -> Iterator[Sitting]:
    """Divide the events where the maker was `away` after them, and after the last."""
    began = 0
    for at, (event, ends) in enumerate(zip(events, [*away, True], strict=False), 1):
        if ends:
            yield Sitting(events[began].at, event.at, max(0, sum(steps[began:at])))
            began = at
