"""How long the work takes, by the times of what happened: minutes at the table, time left."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from itertools import pairwise
from statistics import fmean

from workbench.craft.pace import KINDS, Kind, Pace
from workbench.craft.project import Project
from workbench.making.batch import BatchState
from workbench.making.events import Event
from workbench.making.plan_index import kind_of
from workbench.making.words import in_minutes, listed
from workbench.measure.counting import counted
from workbench.planning import Figures, Own, Plan, Step

# Longer than this between two events, and the maker was not at the table, unless the step at hand
# is one of the maker's own, which takes the minutes given to it besides.
LONGEST = timedelta(minutes=15)
# So many steps, and so long in all, before what they took says something of the rest.
FEWEST_TIMED = 3
LEAST_TIMED = timedelta(minutes=1)
_A_KIND: Mapping[Kind, str] = {
    "setting": "s to set the guide",
    "stroke": "a cut",
    "sheet": "a sheet laid",
    "turn": "a turn",
}


_KINDS: Mapping[Kind, str] = {
    "setting": "settings",
    "stroke": "cuts",
    "sheet": "sheets",
    "turn": "turns",
}


def at_the_table(project: Project, plan: Plan, events: Sequence[Event]) -> timedelta:
    """The time spent between the events, pauses left out."""
    return sum((spent for _, spent in _spells(project, plan, events)), timedelta())


def longest_before(project: Project, plan: Plan, event: Event) -> timedelta:
    """The longest time before an event through which the maker is taken to be at the table."""
    if event.step > len(plan.steps):
        return LONGEST
    return LONGEST + timedelta(seconds=_given(project, plan.steps[event.step - 1]))


def time_left(
    project: Project, plan: Plan, state: BatchState, events: Sequence[Event]
) -> timedelta | None:
    """By the pace so far, each kind of step by its own; None before a few steps are timed.

    A step of the maker's own that was not timed yet takes the minutes that the maker gave it.
    """
    taken: dict[type[Step] | str, list[float]] = defaultdict(list)
    for event, spent in _spells(project, plan, events):
        if event.what == "ticked" and event.step <= len(plan.steps):
            taken[kind_of(plan.steps[event.step - 1])].append(spent.total_seconds())
    every = [seconds for kind in taken.values() for seconds in kind]
    if len(every) < FEWEST_TIMED or sum(every) < LEAST_TIMED.total_seconds():
        return None
    pace = {kind: fmean(seconds) for kind, seconds in taken.items()}
    overall = fmean(every)
    left = plan.steps[state.done :]
    return timedelta(
        seconds=sum(
            pace[kind_of(step)] if kind_of(step) in pace else _given(project, step) or overall
            for step in left
        )
    )


def _given(project: Project, step: Step) -> float:
    """The seconds that the maker gave a step of the maker's own; 0 where none are given."""
    if not isinstance(step, Own):
        return 0
    return float(project.own_step(step.name).minutes * len(step.takes) * 60)


def in_words(left: timedelta) -> str:
    """To the minute, or to five where it is long: "about 25 min"."""
    minutes = round(left.total_seconds() / 60)
    if minutes < 1:
        return "less than a minute"
    if minutes > 20:
        minutes = 5 * round(minutes / 5)
    hours, rest = divmod(minutes, 60)
    return " ".join(
        ["about", *([f"{hours} h"] if hours else []), *([f"{rest} min"] if rest else [])]
    )


def pace_words(pace: Pace) -> str:
    """What minutes are counted at, and whether that is measured or estimated."""
    each = [f"{pace.of(kind)} {words}" for kind, words in _A_KIND.items()]
    guessed = [_KINDS[kind] for kind in KINDS if kind not in pace.own]
    if not pace.own:
        whose = "estimates"
    elif guessed:
        whose = f"your own pace, {listed(guessed)} by estimate"
    else:
        whose = "your own pace"
    return f"{', '.join(each)}: {whose}"


def compared(figures: Figures, beside: Figures) -> Iterator[str]:
    """What a plan has more and fewer than the one beside it, a line each."""
    pairs = (
        (figures.work.strokes, beside.work.strokes, "cut"),
        (figures.work.settings, beside.work.settings, "setting"),
    )
    fewer = [counted(theirs - mine, noun) for mine, theirs, noun in pairs if mine < theirs]
    more = [counted(mine - theirs, noun) for mine, theirs, noun in pairs if mine > theirs]
    if fewer:
        yield f"{listed(fewer)} fewer"
    if more:
        yield f"{listed(more)} more"
    spent = figures.seconds - beside.seconds
    if spent >= 60:
        yield f"about {in_minutes(spent)} longer"


def _spells(
    project: Project, plan: Plan, events: Sequence[Event]
) -> Iterator[tuple[Event, timedelta]]:
    """Each event that followed work at the table, and how long that took."""
    for before, event in pairwise(events):
        spent = event.at - before.at
        if before.what != "paused" and timedelta() <= spent <= longest_before(project, plan, event):
            yield event, spent
