"""How long the work takes: estimates, as nobody has timed a stranger."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from workbench.making.plan_index import PlanIndex
from workbench.planning import Assemble, Cut, Deal, Fold, Mount, Own, Round, Score, Step

# Estimates, to begin with: seconds to set the guide, for a stroke, for each sheet laid in a stack,
# for a turn of the sheets.
_SETTING, _STROKE, _SHEET, _TURN = 20, 8, 3, 2
# Seconds for each part, by what is done to it. Estimates.
_EACH: Mapping[type[Step], int] = {
    Score: 15,
    Fold: 10,
    Round: 5,
    Deal: 3,
    Mount: 40,
    Assemble: 25,
    Own: 30,
}


def cutting_seconds(bench: PlanIndex, strokes: Sequence[Cut] | None = None) -> float:
    """The time that strokes take, all of the plan's unless some are given."""
    cuts = bench.plan.cuts if strokes is None else strokes
    settings = sum(one.mark != other.mark for one, other in pairwise(cuts)) + bool(cuts)
    turns = sum(one.measure != other.measure for one, other in pairwise(cuts))
    laid = sum(len(step.takes) for step in cuts)
    return float(_SETTING * settings + _STROKE * len(cuts) + _SHEET * laid + _TURN * turns)


def finishing_seconds(bench: PlanIndex, kinds: Iterable[type[Step]] = tuple(_EACH)) -> float:
    """The time that the work of these kinds takes after the cutting."""
    wanted = set(kinds)
    steps = (step for step in bench.plan.steps if type(step) in wanted)
    return float(sum(_each(bench, step) * len(step.takes) for step in steps))


def _each(bench: PlanIndex, step: Step) -> float:
    if isinstance(step, Own):
        return float(bench.project.own_step(step.name).minutes) * 60 or _EACH[Own]
    return _EACH[type(step)]


def in_minutes(seconds: float) -> str:
    """ "1 minute", "25 minutes", "1 h 40 min"."""
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    hours, rest = divmod(5 * round(minutes / 5), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"
