"""The page of all batches: their records, putting away, removing; and no second one unasked."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.app.bench import at_bench, batch_begun, done, on_screen, pressed
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running
from tests.making.plans import FOG, HARBOUR, PLAN
from workbench.app.screens import run
from workbench.app.screens.batches import BatchesScreen
from workbench.app.screens.run import RunScreen
from workbench.app.screens.trimming import TrimmingScreen
from workbench.app.widgets.questions import Question
from workbench.craft.paper import Offcut, Size
from workbench.making.events import Event
from workbench.making.history import dated, history_of, told
from workbench.measure.length import Length
from workbench.store.database import Workshop

NOW = datetime(2031, 2, 3, 19, 30, tzinfo=UTC)
NARROW = (60, 20)


@pytest.fixture(autouse=True)
def here_and_steady(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)
    monkeypatch.setattr("workbench.store.database._now", NOW.isoformat)


def with_events(batch_id: int) -> None:
    """Two evenings: four ticks, one of them taken back, a pause and a note."""
    at = NOW
    happened = [
        ("ticked", 1, 3),
        ("ticked", 2, 3),
        ("taken back", 2, 1),
        ("paused", 1, 1),
        ("went on", 1, 60 * 24),
        ("ticked", 2, 5),
        ("noted", 2, 1),
        ("ticked", 3, 2),
    ]
    for seq, (what, step, minutes) in enumerate(happened, 1):
        at += timedelta(minutes=minutes)
        note = "gull is crooked" if what == "noted" else ""
        Workshop.open().append(batch_id, Event(what, step, at, note=note), seq)  # type: ignore[arg-type]


def test_the_record_tells_the_evenings_and_what_happened() -> None:
    batch_id = batch_begun()
    with_events(batch_id)
    events = Workshop.open().events(batch_id)
    history = history_of(NOW, HARBOUR, PLAN, events)
    assert [sitting.steps for sitting in history.sittings] == [1, 2]
    assert (history.pauses, history.finished) == (1, None)
    lines = list(dated(history))
    assert lines[0].startswith("Started ") and "2031" in lines[0]
    assert lines[1].endswith(": 1 step.") and lines[2].endswith(": 2 steps.")
    assert lines[3] == "Paused once."
    assert list(told(history)) == ["13 minutes at the table.", "Note: gull is crooked"]


def test_the_record_counts_every_step_of_those_ticked_at_once_or_taken_back() -> None:
    """One press may tick many steps, and one takes them all back; notes tick none."""
    happened = [("ticked through", 4), ("noted", 4), ("ticked", 5), ("ticked through", 12)]
    events = [Event(what, step, NOW) for what, step in happened]  # type: ignore[arg-type]
    assert [sitting.steps for sitting in history_of(NOW, HARBOUR, PLAN, events).sittings] == [12]
    back = [*events, Event("taken back", 12, NOW)]
    assert [sitting.steps for sitting in history_of(NOW, HARBOUR, PLAN, back).sittings] == [5]


def test_what_is_written_down_when_all_is_done_is_no_time_at_the_table() -> None:
    done = [Event("ticked", step, NOW + timedelta(minutes=step)) for step in range(1, 13)]
    later = NOW + timedelta(minutes=20)
    after = [Event("stocked", 12, later), Event("noted", 12, later, note="sold all")]
    history = history_of(NOW, HARBOUR, PLAN, [*done, *after])
    assert (history.minutes, history.notes) == (11, ("sold all",))
    assert [sitting.ended for sitting in history.sittings] == [done[-1].at]


async def test_lengths_of_a_record_are_in_the_units_of_its_project_until_switched() -> None:
    project = replace(HARBOUR, units="mm")
    batch_id = Workshop.open().create_batch(project, None, PLAN)
    offcut = Offcut(FOG, Size(Length.of(210, "mm"), Length.of(99, "mm")))
    Workshop.open().append(batch_id, Event("stocked", 0, NOW, offcuts=(offcut,)), 1)
    async with running() as (_, pilot):
        await press(pilot, "b")
        assert "210 × 99 mm" in on_screen(pilot)
        await press(pilot, "u")
        assert "× 99 mm" not in on_screen(pilot)
        assert "≈ 8 1/4 × 3 7/8 in" in on_screen(pilot)


async def test_a_batch_is_read_put_away_taken_out_and_removed() -> None:
    first, second = batch_begun(), batch_begun()
    with_events(second)
    async with running() as (app, pilot):
        await press(pilot, "b")
        assert isinstance(app.screen, BatchesScreen)
        assert "Note: gull is crooked" in on_screen(pilot)
        await press(pilot, "a")
        assert "put away" in on_screen(pilot)
        await press(pilot, "escape")
        assert "0 of 12" in on_screen(pilot)
        assert "3 of 12" not in on_screen(pilot)
        await press(pilot, "b", "down", "a", "x")
        assert isinstance(app.screen, Question)
        await press(pilot, "escape")
        assert len(Workshop.open().batches()) == 2
        assert not any(line.away for line in Workshop.open().batches())
        await press(pilot, "x", "right", "enter")
        (left,) = Workshop.open().batches()
        assert left.id in (first, second)
        assert "enter Bench" in on_screen(pilot)
        await press(pilot, "enter")
        assert isinstance(app.screen, RunScreen)


@pytest.mark.usefixtures("planned")
async def test_a_finished_batch_does_not_begin_another_unasked(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with running(harbour) as (app, pilot):
        await pressed(pilot, ["3"])
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"] * len(PLAN.steps))
        assert done(batch_id) == len(PLAN.steps)
        await pressed(pilot, ["escape"])
        assert isinstance(app.screen, TrimmingScreen)
        assert "is finished" in on_screen(pilot)
        await press(pilot, "space")
        assert isinstance(app.screen, Question)
        await press(pilot, "escape")
        assert len(Workshop.open().batches()) == 1
        await press(pilot, "space", "right", "enter")
        await pressed(pilot, [])
    assert len(Workshop.open().batches()) == 2


@pytest.mark.parametrize("size", [SMALL, LARGE, NARROW])
async def test_pictures_of_the_batches(look: Look, size: tuple[int, int]) -> None:
    batch_id = batch_begun()
    with_events(batch_id)
    async with running(size=size) as (_, pilot):
        await press(pilot, "b")
        await look(pilot, "batches")
