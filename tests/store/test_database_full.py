"""A tick with no room left, or in a folder that cannot be written: said, not lost, gone on with."""

import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.making.plans import HARBOUR, PLAN
from tests.permissions import bound
from workbench.making.batch import replay
from workbench.making.events import Event
from workbench.store import database as store
from workbench.store.database import FILE, Workshop
from workbench.store.errors import WorkshopError


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


TICK = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from workbench.making.events import Event
from workbench.store.errors import WorkshopError
from workbench.store.database import Workshop
workshop, step = Workshop.open(Path(sys.argv[1])), int(sys.argv[2])
try:
    assert workshop.exists or step == 1
    workshop.append(1, Event("ticked", step, datetime.now(UTC)), step)
    print("kept")
except WorkshopError as error:
    print(error)
"""


def ticked_elsewhere(workshop: Workshop, step: int) -> str:
    """What a process that permissions bind says of a tick."""
    command = [*bound(), sys.executable, "-c", TICK, str(workshop.folder), str(step)]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


@pytest.mark.parametrize(
    ("name", "without"),
    [(".", 0o222), (FILE, 0o222), (".", 0o777)],
    ids=["folder", "file", "closed folder"],
)
def test_a_tick_where_nothing_can_be_written(workshop: Workshop, name: str, without: int) -> None:
    workshop.create_batch(HARBOUR, None, PLAN)
    assert ticked_elsewhere(workshop, 1) == "kept"
    place = workshop.folder / name
    mode = place.stat().st_mode
    place.chmod(mode & ~without)
    try:
        said = ticked_elsewhere(workshop, 2)
    finally:
        place.chmod(mode)
    assert said.startswith(f"{workshop.file}: it cannot be used (")
    assert said.endswith("make it and its folder writable, or set TRIMTALLY_HOME to another")
    assert replay(PLAN, workshop.events(1)).done == 1
    assert ticked_elsewhere(workshop, 2) == "kept"
    assert replay(PLAN, workshop.events(1)).done == 2


def test_a_new_workshop_where_no_folder_can_be_made(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        said = ticked_elsewhere(Workshop.open(tmp_path / "home"), 1)
    finally:
        tmp_path.chmod(0o755)
    assert "make it and its folder writable" in said
