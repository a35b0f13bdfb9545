"""The maker's own pace, measured by the ticks of batches.

Between the tick of one cut and the tick of the next lies all that the next took: perhaps the guide
was set, perhaps the sheets were turned, so many were laid in a stack, and the blade fell. What one
setting takes is told by two strokes that differ in nothing else: with a setting, and without. The
median over all such pairs is that of Hodges and Lehmann (Annals of Mathematical Statistics 34,
1963); for stacks, which differ by more than one sheet, it is the slope of Theil (1950) and Sen
(Journal of the American Statistical Association 63, 1968). Supper, a dropped blade or a clumsy
evening moves a median but little: up to about three in ten times may be wrong. The stroke is the
median of what is left once all else is taken off.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta
from itertools import product
from statistics import median
from typing import NamedTuple

from workbench.craft.pace import ESTIMATED, KINDS, Kind, Pace
from workbench.making.batch import applied, begun
from workbench.making.events import Event
from workbench.making.pace import LONGEST
from workbench.planning import Cut, Plan

FEWEST = 30
"""So many strokes with a thing, and so many without, before they say what it takes."""
MOST = 400
"""No more strokes than this are looked at, the last ones: a pace changes with the years."""
# Ticks that follow faster catch up on strokes made before; nobody lays, cuts and ticks so fast.
_CAUGHT_UP = timedelta(seconds=2)


class TimedStroke(NamedTuple):
    """A stroke and its seconds since the stroke before, and what else they were spent on.

    `setting` and `turn` are 1 where the guide was set and the sheets were turned, else 0; `sheets`
    were laid in the stack.
    """

    setting: int
    turn: int
    sheets: int
    seconds: float


def timed_strokes(plan: Plan, events: Sequence[Event]) -> Iterator[TimedStroke]:
    """The strokes of a batch begun by `plan` whose ticks tell how long they took, in order.

    Both the cut and the one before were ticked by themselves, one right after the other: nothing
    was paused, noted, taken back or put right between them, and no tick only caught up.
    """
    seen = list(_seen(plan, events))
    for last, one, after in zip(seen, seen[1:], [*seen[2:], None], strict=False):
        spent = one.event.at - last.event.at
        sound = last.ticked and one.ticked and _CAUGHT_UP <= spent <= LONGEST
        if sound and not (after and _unsays(after.event, one.event)):
            yield from _timed(one.plan, one.event.step, spent.total_seconds())


def measured(strokes: Iterable[TimedStroke]) -> Pace:
    """The pace that the last of the `strokes` show, in whole seconds.

    What fewer than `FEWEST` strokes have, or lack, stays at its estimate.
    """
    timed = list(strokes)[-MOST:]
    seconds = {kind: ESTIMATED.of(kind) for kind in KINDS}
    own: list[Kind] = []
    sides: tuple[tuple[Kind, int], ...] = (("setting", 0), ("turn", 1), ("sheet", 2))
    for kind, side in sides:
        found = _slope(timed, side)
        if found is not None:
            seconds[kind] = max(0, round(found))
            own.append(kind)
    if len(timed) >= FEWEST:
        besides = (
            one.seconds
            - seconds["setting"] * one.setting
            - seconds["turn"] * one.turn
            - seconds["sheet"] * one.sheets
            for one in timed
        )
        seconds["stroke"] = max(1, round(median(besides)))
        own.append("stroke")
    return Pace(**seconds, own=tuple(kind for kind in KINDS if kind in own))


class _Seen(NamedTuple):
    """An event, the plan that was followed then, and whether it ticked one step."""

    event: Event
    plan: Plan
    ticked: bool


def _seen(plan: Plan, events: Iterable[Event]) -> Iterator[_Seen]:
    state = begun(plan)
    for event in events:
        before, state = state, applied(state, event)
        followed = state.recovery.plan if state.recovery else plan
        yield _Seen(event, followed, event.what == "ticked" and state.done == before.done + 1)


def _unsays(event: Event, before: Event) -> bool:
    """Whether an event tells that the tick `before` it says nothing of its stroke."""
    return event.what == "taken back" or event.at - before.at < _CAUGHT_UP


def _timed(plan: Plan, step: int, seconds: float) -> Iterator[TimedStroke]:
    if step < 2:
        return
    last, cut = plan.steps[step - 2 : step]
    if isinstance(last, Cut) and isinstance(cut, Cut):
        setting, turn = int(cut.mark != last.mark), int(cut.measure is not last.measure)
        yield TimedStroke(setting, turn, len(cut.takes), seconds)


def _slope(timed: Sequence[TimedStroke], side: int) -> float | None:
    """The median of what one more on this side takes, over all pairs alike in all others."""
    alike: dict[tuple[int, ...], dict[int, list[float]]] = defaultdict(lambda: defaultdict(list))
    for one in timed:
        facts = one[:3]
        alike[facts[:side] + facts[side + 1 :]][facts[side]].append(one.seconds)
    slopes: list[float] = []
    more = fewer = 0
    for times in alike.values():
        if len(times) > 1:
            more += sum(len(each) for amount, each in times.items() if amount > min(times))
            fewer += len(times[min(times)])
        for (less, ones), (greater, others) in product(times.items(), repeat=2):
            if less < greater:
                slopes += [(b - a) / (greater - less) for a, b in product(ones, others)]
    return median(slopes) if min(more, fewer) >= FEWEST else None
