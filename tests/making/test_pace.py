"""Time at the table and time left, by a clock set by hand."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.making.plans import HARBOUR, PLAN
from workbench.making.batch import replay
from workbench.making.events import Event, What
from workbench.making.pace import at_the_table, in_words, time_left

START = datetime(2031, 2, 3, 19, tzinfo=UTC)


def ticked(*minutes: float) -> list[Event]:
    return [
        Event("ticked", step, START + timedelta(minutes=after))
        for step, after in enumerate(minutes, 1)
    ]


def left(events: list[Event]) -> timedelta | None:
    return time_left(HARBOUR, PLAN, replay(PLAN, events), events)


def test_nothing_is_said_before_a_few_steps_are_timed() -> None:
    assert left(ticked(0, 1, 2)) is None
    assert left(ticked(0, 1, 2, 3)) == timedelta(minutes=8)


def test_nothing_is_said_of_ticks_in_a_row_that_took_no_time() -> None:
    assert left(ticked(0, 0.1, 0.2, 0.3, 0.4)) is None


def test_supper_is_not_time_at_the_table() -> None:
    events = ticked(0, 1, 2, 62, 63)
    assert at_the_table(HARBOUR, PLAN, events) == timedelta(minutes=3)
    assert left(events) == timedelta(minutes=7)


def test_a_pause_is_not_time_at_the_table() -> None:
    what: list[tuple[What, int, int]] = [("ticked", 1, 0), ("paused", 1, 2), ("went on", 1, 9)]
    events = [Event(each, step, START + timedelta(minutes=at)) for each, step, at in what]
    assert at_the_table(HARBOUR, PLAN, events) == timedelta(minutes=2)


def test_each_kind_of_step_has_its_own_pace() -> None:
    seven_cuts_then_scoring = ticked(0, 1, 2, 3, 4, 5, 6, 16)
    # Of the four steps left none is a cut or a score: the mean of six times 1 and once 10.
    assert left(seven_cuts_then_scoring) == timedelta(minutes=4 * 16 / 7)


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0.2, "less than a minute"),
        (3.4, "about 3 min"),
        (23, "about 25 min"),
        (59, "about 1 h"),
        (118, "about 2 h"),
        (131, "about 2 h 10 min"),
    ],
)
def test_the_time_left_in_words(minutes: float, words: str) -> None:
    assert in_words(timedelta(minutes=minutes)) == words
