"""An attack: what is tried by chance, again and again, and what came of it."""

import os
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import monotonic

Trial = Callable[[Random, Path], None]
"""One attempt, in a folder of its own; raises where something is harmed."""


@dataclass(frozen=True)
class Attack:
    """A kind of harm that is tried: `share` of the minutes are its own."""

    name: str
    trial: Trial
    share: float = 1.0


@dataclass
class Outcome:
    """How often it was tried, and the trials that did harm, with what they said."""

    tried: int = 0
    harmed: dict[int, str] = field(default_factory=dict)

    @property
    def survived(self) -> int:
        return self.tried - len(self.harmed)


def carried_out(
    attack: Attack, seed: int, first: int = 0, most: int | None = None, seconds: float | None = None
) -> Outcome:
    """Try `attack` from its trial number `first` on, so often or so long.

    What a trial does hangs on the seed and its number alone, so that each can be done again.
    """
    outcome, end = Outcome(), monotonic() + (seconds or 0)
    number = first
    while (most is None or outcome.tried < most) and (seconds is None or monotonic() < end):
        with TemporaryDirectory(prefix="attack-") as folder, _at_home(Path(folder) / "home"):
            try:
                attack.trial(Random(f"{seed} {attack.name} {number}"), Path(folder))
            except Exception:
                outcome.harmed[number] = traceback.format_exc(limit=-4)
        outcome.tried += 1
        number += 1
    return outcome


@contextmanager
def _at_home(home: Path) -> Iterator[None]:
    before = os.environ.get("TRIMTALLY_HOME")
    os.environ["TRIMTALLY_HOME"] = str(home)
    try:
        yield
    finally:
        if before is None:
            del os.environ["TRIMTALLY_HOME"]
        else:
            os.environ["TRIMTALLY_HOME"] = before
