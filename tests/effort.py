"""How many examples each law is tried on: few in every run, as many more as EXAMPLES says.

`EXAMPLES=10 pytest tests/planning` hunts: it tries ten times as many, others at every run, and
every case of which a run tries only some. Without it the examples are the same at every run, so
that what one run passes the next does not fail for another reason than a change.
"""

from collections.abc import Sequence
from dataclasses import replace
from os import environ
from typing import TypeVar

from workbench.planning.limits import DEFAULT, QUICK, Effort, Limits

_T = TypeVar("_T")
_TIMES = int(environ.get("EXAMPLES", "1"))

HUNTING = _TIMES > 1
"""Whether a run is to find what no run found before."""


def _soon_at_the_table(limits: Limits) -> Limits:
    """The same, but little is tried for the least time at the table."""
    return replace(
        limits,
        joint_arcs=200,
        apart_arcs=0,
        deep_arcs=200,
        few_pieces=0,
        least_arcs=0,
        circle_rounds=1,
        kernel_effort=Effort(nodes=1, checks=10, gap=0.05),
        hard_effort=Effort(nodes=1, checks=10, gap=0.05),
        kernel_buckets=(0,),
        offcut_tries=1,
    )


FOR_SHEETS = _soon_at_the_table(DEFAULT)
"""Limits for tests of sheets: those are looked for as far as ever, how they are cut is not."""

SOON = replace(
    _soon_at_the_table(QUICK),
    rough_effort=Effort(nodes=2, checks=10, gap=0.05),
    fillings=4,
    filled_sheets=12,
    gap_passes=1,
)
"""Limits for tests that ask whether plans are sound, which they are whatever the effort."""


def examples(count: int) -> int:
    """How many examples to try where `count` are enough for every run."""
    return count * _TIMES


def some(cases: Sequence[_T], count: int) -> Sequence[_T]:
    """The first `count` cases, or all where more examples are asked for."""
    return cases if HUNTING else cases[:count]
