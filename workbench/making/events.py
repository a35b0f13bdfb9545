"""What can happen to a batch. The list only ever grows; undo is one more event."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.planning import Plan

What = Literal[
    "ticked",
    "ticked through",
    "counted",
    "taken back",
    "mended",
    "paused",
    "went on",
    "noted",
    "stocked",
    "abandoned",
]


@dataclass(frozen=True, slots=True)
class Recovery:
    """The `way` on that was chosen after a `slip`, both in words, and all that follows from it.

    `project` and `plan` take the place of those before; the first `done` steps of the plan are
    what has truly been done.
    """

    slip: str
    way: str
    project: Project
    plan: Plan
    done: int


@dataclass(frozen=True, slots=True)
class Event:
    """What happened at step number `step` (counted from 1), `at` a UTC time.

    "ticked through" ticks all steps up to `step`; "counted" is one part of the step at hand.
    `recovery` belongs to "mended", `note` to "noted", `offcuts` to "stocked": put in the stock.
    """

    what: What
    step: int
    at: datetime
    recovery: Recovery | None = None
    note: str = ""
    offcuts: tuple[Offcut, ...] = ()
