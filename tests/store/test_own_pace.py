"""The maker's own pace as the workshop's batches tell it, and as the preferences want it."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

import pytest

from tests.making.plans import HARBOUR, PLAN
from tests.making.test_timing import SLOW, SWIFT, evening, plan_of
from workbench.craft.pace import ESTIMATED, Pace
from workbench.planning import Plan, make_plan, table_work
from workbench.store import own_pace
from workbench.store.batch_rows import insert_batch, insert_event
from workbench.store.database import Workshop
from workbench.store.own_pace import measured_pace, pace_of
from workbench.store.preferences import Preferences


def begun(plan: Plan, pace: Pace, chance: Random, days: int = 0) -> int:
    """A batch whose cuts are all ticked at that pace."""
    with Workshop.open().writing() as connection:
        at = datetime(2031, 2, 3, tzinfo=UTC)
        batch_id = insert_batch(connection, HARBOUR, None, plan, at)
        for seq, event in enumerate(evening(chance, plan, pace), 1):
            later = replace(event, at=event.at + timedelta(days=days))
            insert_event(connection, batch_id, seq, later)
    return batch_id


@pytest.fixture
def unread(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plans are taken as they come: cuts of parts that are not there tell the time as well."""
    monkeypatch.setattr("workbench.store.plan_data.rectangles", lambda plan: plan)


def test_without_a_workshop_there_are_estimates_and_none_is_made() -> None:
    assert measured_pace(Workshop.open()) == ESTIMATED
    assert not Workshop.open().exists


@pytest.mark.usefixtures("unread")
def test_batches_tell_the_pace_and_the_preferences_switch_it_off() -> None:
    chance = Random(5)
    for _ in range(3):
        begun(plan_of(chance, 90), SLOW, chance)
    found = pace_of(Workshop.open(), Preferences())
    assert found == measured_pace(Workshop.open())
    assert abs(found.setting - SLOW.setting) <= 4
    assert set(found.own) == {"setting", "stroke", "sheet", "turn"}
    assert pace_of(Workshop.open(), Preferences(own_pace=False)) == ESTIMATED


@pytest.mark.usefixtures("unread")
def test_the_batches_worked_on_last_count(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = Random(6)
    for days, pace in ((9, SWIFT), (1, SLOW), (8, SWIFT)):
        begun(plan_of(chance, 100), pace, chance, days)
    monkeypatch.setattr(own_pace, "MOST", 150)
    assert abs(measured_pace(Workshop.open()).setting - SWIFT.setting) <= 3


@pytest.mark.usefixtures("unread")
def test_a_damaged_batch_hinders_no_plan() -> None:
    chance = Random(7)
    for _ in range(3):
        last = begun(plan_of(chance, 90), SWIFT, chance)
    with closing(sqlite3.connect(Workshop.open().file)) as connection, connection:
        connection.execute("UPDATE batches SET plan = '{}' WHERE id = ?", (last,))
    assert abs(measured_pace(Workshop.open()).setting - SWIFT.setting) <= 3


def test_a_batch_keeps_the_pace_its_plan_was_made_at() -> None:
    mine = replace(SLOW, own=("setting", "stroke"))
    plan = make_plan(HARBOUR, pace=mine)
    batch_id = Workshop.open().create_batch(HARBOUR, None, plan)
    kept = Workshop.open().batch(batch_id).plan
    assert kept.pace == mine
    assert table_work(kept.cuts).seconds(kept.pace) == table_work(plan.cuts).seconds(mine)


def test_the_same_weights_give_the_same_plan() -> None:
    mine = replace(SWIFT, own=("setting",))
    one, other = make_plan(HARBOUR, pace=mine), make_plan(HARBOUR, pace=mine)
    assert (one.sheets, one.steps) == (other.sheets, other.steps)
    assert PLAN.pace == ESTIMATED
