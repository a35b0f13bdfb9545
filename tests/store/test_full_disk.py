"""A tick with no room left, or in a folder that cannot be written: said, not lost, gone on with."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.making.plans import HARBOUR, PLAN
from workbench.making.batch import replay
from workbench.making.events import Event
from workbench.store import workshop as store
from workbench.store.faults import WorkshopError
from workbench.store.workshop import Workshop


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop.open(tmp_path / "home")


def tick(workshop: Workshop, step: int) -> None:
    workshop.append(1, Event("ticked", step, datetime.now(UTC)), step)


@contextmanager
def pages(monkeypatch: pytest.MonkeyPatch, most: str) -> Iterator[None]:
    """SQLite itself says that the disk is full when its file may have no more pages."""
    connect = store._connection

    def limited(file: Path) -> sqlite3.Connection:
        connection = connect(file)
        connection.execute(f"PRAGMA max_page_count = {most}")
        return connection

    with monkeypatch.context() as patched:
        patched.setattr(store, "_connection", limited)
        yield


def test_a_full_disk(workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
    workshop.create_batch(HARBOUR, None, PLAN)
    tick(workshop, 1)
    note = "a" * 100_000
    with pages(monkeypatch, "1"), pytest.raises(WorkshopError, match="make room on the disk"):
        workshop.append(1, Event("noted", 1, datetime.now(UTC), note=note), 2)
    assert [event.step for event in workshop.events(1)] == [1]
    tick(workshop, 2)
    assert replay(PLAN, workshop.events(1)).done == 2


def test_a_folder_that_cannot_be_written(workshop: Workshop, tmp_path: Path) -> None:
    workshop.create_batch(HARBOUR, None, PLAN)
    tick(workshop, 1)
    away = tmp_path / "away"
    workshop.folder.rename(away)
    workshop.folder.write_text("no folder")
    with pytest.raises(WorkshopError, match="cannot be used"):
        tick(workshop, 2)
    workshop.folder.unlink()
    away.rename(workshop.folder)
    tick(workshop, 2)
    assert replay(PLAN, workshop.events(1)).done == 2
