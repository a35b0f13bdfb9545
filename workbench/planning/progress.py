"""How a long computation reports and is stopped, without knowing who watches."""

import logging
from collections.abc import Callable
from dataclasses import dataclass

from workbench.planning.limits import DEFAULT, Limits

_log = logging.getLogger(__name__)


class Cancelled(Exception):  # noqa: N818 - asked for, not an error
    """Raised inside a computation that its watcher no longer wants."""


class PlanningError(ValueError):
    """Raised when no amount of paper could make the project; says why and what would help."""


def _silent(stage: str) -> None:
    del stage


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Watch:
    """`say` hears each stage by name; `stop` is asked often and ends the work when true.

    Both are called from any thread that computes. `limits` say how far the work goes by itself.
    """

    say: Callable[[str], None] = _silent
    stop: Callable[[], bool] = _never
    limits: Limits = DEFAULT

    def stage(self, name: str) -> None:
        """Name the stage that begins. Raises Cancelled if the watcher has had enough."""
        self.go_on()
        _log.debug("%s", name)
        self.say(name)

    def go_on(self) -> None:
        """Raise Cancelled if the watcher has had enough."""
        if self.stop():
            raise Cancelled


UNWATCHED = Watch()
