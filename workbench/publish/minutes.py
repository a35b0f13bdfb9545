"""How long the work takes: the cutting at the pace of its plan, all else by estimates."""

from collections.abc import Iterable, Mapping, Sequence

from workbench.making.plan_index import PlanIndex
from workbench.planning import Assemble, Cut, Deal, Fold, Mount, Own, Round, Score, Step, table_work

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


def cutting_seconds(index: PlanIndex, strokes: Sequence[Cut] | None = None) -> int:
    """The time that strokes take at the plan's pace, all of the plan's unless some are given."""
    cuts = index.plan.cuts if strokes is None else strokes
    return table_work(cuts).seconds(index.plan.pace)


def finishing_seconds(index: PlanIndex, kinds: Iterable[type[Step]] = tuple(_EACH)) -> float:
    """The time that the work of these kinds takes after the cutting."""
    wanted = set(kinds)
    steps = (step for step in index.plan.steps if type(step) in wanted)
    return float(sum(_each(index, step) * len(step.takes) for step in steps))


def _each(index: PlanIndex, step: Step) -> float:
    if isinstance(step, Own):
        return float(index.project.own_step(step.name).minutes) * 60 or _EACH[Own]
    return _EACH[type(step)]
