"""Workshops that are shared, full, damaged or from the future: said in words, and nothing lost."""

import asyncio
import os
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from tests.app.running import press, running
from tests.attack.kills import sound
from tests.making.plans import HARBOUR, PLAN
from tests.store.drawing import stocked
from workbench.app.screens import run
from workbench.making.batch import replay
from workbench.making.events import Event
from workbench.store import database
from workbench.store.database import ConflictError, Workshop
from workbench.store.drawer import Drawer
from workbench.store.errors import StoreError
from workbench.store.project_file import FileChangedError, read_project_file, write_project

NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)
_DRAWER_KEYS = ("d", "d", "down", "space", "f1", "o", "i", "g", "y", "z", "n")


def two_windows(chance: Random, folder: Path) -> None:
    """Two tick one batch and save one file at once: each step once, one of two saves."""
    workshop = Workshop.open(folder / "home")
    batch_id = workshop.create_batch(HARBOUR, None, PLAN)
    path = folder / "card.toml"
    write_project(path, HARBOUR)
    before = read_project_file(path)

    def window(name: str) -> tuple[int, bool]:
        ticked = 0
        for seq in range(1, len(PLAN.steps) + 1):
            with suppress(ConflictError):
                workshop.append(batch_id, Event("ticked", seq, datetime.now(UTC)), seq)
                ticked += 1
        try:
            write_project(path, replace(HARBOUR, title=name), before, before.content)
        except FileChangedError:
            return ticked, False
        return ticked, True

    names = [f"window {number}" for number in range(chance.randint(2, 4))]
    with ThreadPoolExecutor(len(names)) as windows:
        ended = list(windows.map(window, names))
    assert sum(ticked for ticked, _ in ended) == len(PLAN.steps)
    (winner,) = [name for name, (_, saved) in zip(names, ended, strict=True) if saved]
    assert read_project_file(path).project.title == winner
    assert replay(PLAN, workshop.batch(batch_id).events).done == len(PLAN.steps)


def full_disk(chance: Random, folder: Path) -> None:
    """A tick and a save for which there is no room are refused, and what was there stays."""
    workshop = Workshop.open(folder / "home")
    batch_id = workshop.create_batch(HARBOUR, None, PLAN)
    path = folder / "card.toml"
    write_project(path, HARBOUR)
    connect, flush = database._connection, os.fsync

    def limited(file: Path) -> sqlite3.Connection:
        connection = connect(file)
        connection.execute("PRAGMA max_page_count = 1")
        return connection

    def no_room(handle: int) -> None:
        if chance.random() < 0.7:
            raise OSError(28, "No space left on device")
        flush(handle)

    kept = 0
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(database, "_connection", limited)
        patched.setattr(os, "fsync", no_room)
        title = "0"
        for number in range(chance.randint(1, 40)):
            note = Event("noted", 0, NOON, note="a" * chance.randint(1, 3000))
            with suppress(StoreError):
                workshop.append(batch_id, note, kept + 1)
                kept += 1
            with suppress(StoreError):
                write_project(path, replace(HARBOUR, title=str(number)))
                title = str(number)
            found = read_project_file(path).project.title
            assert found in (HARBOUR.title, title, str(number))
            title = found
    assert len(workshop.events(batch_id)) == kept
    assert [other.name for other in folder.iterdir() if other.is_file()] == [path.name]
    sound(workshop)


def clock_set_back(chance: Random, folder: Path) -> None:
    """Whenever the clock says that a step was done, it was done in its turn."""
    workshop = Workshop.open(folder / "home")
    batch_id = workshop.create_batch(HARBOUR, None, PLAN)
    done = chance.randint(1, len(PLAN.steps))
    for seq in range(1, done + 1):
        at = NOON + timedelta(days=chance.uniform(-40_000, 40_000))
        workshop.append(batch_id, Event("ticked", seq, at), seq)
    assert replay(PLAN, workshop.batch(batch_id).events).done == done
    (line,) = workshop.batches()
    assert line.done == done
    asyncio.run(_looked_at(None, chance))
    assert replay(PLAN, workshop.batch(batch_id).events).done >= done


def damaged_database(chance: Random, folder: Path) -> None:
    """The app opens with a workshop that is damaged anywhere, and says so where it cannot do."""
    workshop = Workshop.open(folder / "home")
    drawer = Drawer(workshop)
    batch_id = workshop.create_batch(stocked(drawer), folder / "card.toml", PLAN)
    drawer.add_offcuts(1, HARBOUR.papers[0].size, 2)
    for seq in range(1, 6):
        workshop.append(batch_id, Event("ticked", seq, NOON), seq)
    write_project(folder / "card.toml", HARBOUR)
    workshop.remember(folder / "card.toml", HARBOUR.title)
    if chance.random() < 0.5:
        _damage_bytes(chance, workshop.file)
    else:
        _damage_rows(chance, workshop.file)
    asyncio.run(_looked_at(folder / "card.toml" if chance.random() < 0.3 else None, chance))


def _damage_bytes(chance: Random, file: Path) -> None:
    data = bytearray(file.read_bytes())
    match chance.randrange(4):
        case 0:
            del data[chance.randrange(len(data)) :]
        case 1:
            start = chance.randrange(len(data))
            data[start : start + 4096] = bytes(len(data[start : start + 4096]))
        case _:
            for _ in range(chance.choice([1, 10, 300])):
                data[chance.randrange(len(data))] = chance.randrange(256)
    file.write_bytes(data)


def _damage_rows(chance: Random, file: Path) -> None:
    values = (None, "", "x", -1, 2**62, b"\xff\x00", "[]", "{}", '{"a": 1}', "9999-99-99", "nan")
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        listed = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        tables = [name for (name,) in listed]
        for _ in range(chance.randint(1, 4)):
            table = chance.choice(["batches", "events", "recent", "settings", *tables])
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            with suppress(sqlite3.Error):
                column = chance.choice(columns)
                connection.execute(f"UPDATE {table} SET {column} = ?", (chance.choice(values),))


async def _looked_at(path: Path | None, chance: Random) -> None:
    """Walk about in the app as somebody would: the start page, its batches, the bench."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(run, "BOUNCE_SECONDS", 0)
        async with running(path) as (_, pilot):
            for _ in range(chance.randint(3, 10)):
                keys = (*("enter", "escape", "b", "f5", "0", "1", "2", "4"), *_DRAWER_KEYS)
                await press(pilot, chance.choice(keys))
