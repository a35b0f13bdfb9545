"""How long the work takes: estimates, as nobody has timed a stranger."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from workbench.making.plan_index import Bench
from workbench.planning import Step

# Estimates, to begin with: seconds to set the guide, for a stroke, for each sheet laid in a stack,
# for a turn of the sheets.
_SETTING, _STROKE, _SHEET, _TURN = 20, 8, 3, 2
# Seconds for each part, by what is done to it. Estimates.
_EACH = {"score": 15, "fold": 10, "round": 5, "deal": 3, "mount": 40, "assemble": 25}


def cutting_seconds(bench: Bench, strokes: Sequence[Step] | None = None) -> float:
    """The time that strokes take, all of the plan's unless some are given."""
    cuts = [step for step in bench.plan.steps if step.do == "cut"] if strokes is None else strokes
    settings = sum(one.mark != other.mark for one, other in pairwise(cuts)) + bool(cuts)
    turns = sum(one.measure != other.measure for one, other in pairwise(cuts))
    laid = sum(len(step.takes) for step in cuts)
    return float(_SETTING * settings + _STROKE * len(cuts) + _SHEET * laid + _TURN * turns)


def finishing_seconds(bench: Bench, kinds: Iterable[str] = tuple(_EACH)) -> float:
    """The time that the work of these kinds takes after the cutting."""
    wanted = set(kinds)
    return float(
        sum(_EACH[step.do] * len(step.takes) for step in bench.plan.steps if step.do in wanted)
    )


def in_minutes(seconds: float) -> str:
    """ "1 minute", "25 minutes", "1 h 40 min"."""
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    hours, rest = divmod(5 * round(minutes / 5), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"
