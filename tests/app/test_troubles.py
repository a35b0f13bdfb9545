"""At the bench with no room on the disk or no folder: said, nothing lost, gone on with after."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.app.bench import at_bench, batch_begun, done, on_screen, pressed
from tests.app.running import SMALL, press, running, said
from workbench.app.app import TrimtallyApp
from workbench.app.screens import run
from workbench.making.events import Event
from workbench.store import database as store
from workbench.store.database import FILE, Workshop
from workbench.store.errors import WorkshopError


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


def fill_the_disk(monkeypatch: pytest.MonkeyPatch, batch_id: int) -> None:
    """Let SQLite's file grow no more, and use up the pages that it has."""
    connect = store._connection

    def limited(file: Path) -> sqlite3.Connection:
        connection = connect(file)
        connection.execute("PRAGMA max_page_count = 1")  # never less than there are
        return connection

    monkeypatch.setattr(store, "_connection", limited)
    workshop = Workshop.open()
    for length in (2000, 500, 100, 1):
        note = Event("noted", 0, datetime.now(UTC), note="a" * length)
        while True:
            try:
                workshop.append(batch_id, note, len(workshop.events(batch_id)) + 1)
            except WorkshopError:
                break


async def test_a_full_disk_is_said_and_the_run_goes_on_when_there_is_room() -> None:
    batch_id = batch_begun()
    with pytest.MonkeyPatch.context() as patched:
        fill_the_disk(patched, batch_id)
        async with TrimtallyApp().run_test(size=SMALL) as pilot:
            await at_bench(pilot, batch_id)
            await pressed(pilot, ["space"])
            assert isinstance(pilot.app, TrimtallyApp)
            assert "make room on the disk" in said(pilot.app)
            assert "step 1 of" in on_screen(pilot)
            assert done(batch_id) == 0
            patched.undo()
            await pressed(pilot, ["space"])
            assert "step 2 of" in on_screen(pilot)
    assert done(batch_id) == 1


async def test_a_folder_that_is_gone_is_said_and_the_run_goes_on_when_it_is_back(
    workshop_folder: Path, tmp_path: Path
) -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"])
        away = workshop_folder.rename(tmp_path / "away")
        workshop_folder.write_text("no folder")
        await pressed(pilot, ["space"])
        assert isinstance(pilot.app, TrimtallyApp)
        assert "it cannot be used" in said(pilot.app)
        assert "step 2 of" in on_screen(pilot)
        workshop_folder.unlink()
        away.rename(workshop_folder)
        await pressed(pilot, ["space"])
        assert "step 3 of" in on_screen(pilot)
    assert done(batch_id) == 2


async def test_a_trouble_is_said_once_while_it_stands_there(workshop_folder: Path) -> None:
    workshop_folder.mkdir()
    (workshop_folder / FILE).write_bytes(b"no database" * 1000)
    async with running() as (app, _):
        assert said(app).count(FILE) == 1


async def test_ctrl_c_says_how_to_leave(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "ctrl+c")
        assert said(app).endswith("q leaves Trimtally.")
