"""The lines on a trimmer's rule, to be drawn."""

import math
from dataclasses import dataclass

from workbench.measure.length import ZERO, Length
from workbench.measure.writing import Graduation, write_number


@dataclass(frozen=True, slots=True)
class RuleTick:
    """One line of a rule.

    Attributes:
        position: how far it lies from the rule's beginning.
        rank: how long it is drawn, 0 the longest, as `Graduation.rank` says.
        label: the number that stands at it; only lines of rank 0 have one.
    """

    position: Length
    rank: int
    label: str | None


def rule_ticks(start: Length, end: Length, graduation: Graduation) -> tuple[RuleTick, ...]:
    """The lines from `start` to `end`, both included, in ascending order; a rule begins at 0.

    Ranks are those of `Graduation.rank`: a whole inch or 10 mm is 0, its half 1, and so on.
    """
    interval = graduation.interval
    first = math.ceil(max(start, ZERO).ratio(interval))
    last = math.floor(end.ratio(interval))
    positions = (interval * n for n in range(first, last + 1))
    return tuple(
        RuleTick(position, rank, None if rank else write_number(position, graduation.unit))
        for position in positions
        if (rank := graduation.rank(position)) is not None
    )
