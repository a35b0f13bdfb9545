"""What can happen to a batch. The list only ever grows; undo is one more event."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

What = Literal["ticked", "taken back"]


@dataclass(frozen=True, slots=True)
class Event:
    """Step number `step` (counted from 1) was ticked or taken back, `at` a UTC time."""

    what: What
    step: int
    at: datetime
