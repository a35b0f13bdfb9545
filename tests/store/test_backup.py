"""Backups of the whole workshop: whole or not at all, and the way back from a damaged file."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.drawing import begin, happen, stocked, sums, ticked
from workbench.making.batch import tick
from workbench.store import backup, database
from workbench.store.backup import back_up, back_up_daily, backups, restore, trouble
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.errors import WorkshopError
from workbench.store.migrations import MIGRATIONS, migrate
from workbench.store.places import PlaceError


@pytest.fixture
def drawer(tmp_path: Path) -> Drawer:
    drawer = Drawer(Workshop.open(tmp_path / "home"))
    ticked(drawer.workshop, begin(drawer, stocked(drawer)), 3)
    return drawer


def damage(file: Path) -> None:
    content = bytearray(file.read_bytes())
    content[4096:] = b"\xff" * (len(content) - 4096)
    file.write_bytes(content)


def test_everything_comes_back(drawer: Drawer, tmp_path: Path) -> None:
    file, kept = drawer.workshop.file, sums(drawer)
    with drawer.workshop.held():  # as while the bench is open
        back_up(file, tmp_path / "copy.sqlite")
    happen(drawer.workshop, 1, tick)
    drawer.buy(1, 5)
    aside = restore(file, tmp_path / "copy.sqlite")
    assert sums(drawer) == kept
    assert len(drawer.workshop.events(1)) == 3
    assert drawer.audit() == ()
    assert aside
    assert len(Workshop.open(aside).events(1)) == 4  # what was there is not lost


def test_the_way_back_from_a_damaged_file(drawer: Drawer, tmp_path: Path) -> None:
    file = drawer.workshop.file
    assert trouble(file) is None
    back_up_daily(file)
    damage(file)
    assert trouble(file)
    with pytest.raises(WorkshopError, match="trimtally restore"):
        drawer.papers()
    (daily,) = backups(file)
    restore(file, daily.path)
    assert trouble(file) is None
    assert len(drawer.workshop.events(1)) == 3


def test_nothing_is_put_back_under_another_window(
    drawer: Drawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(backup, "_TURN_SECONDS", 0.1)
    file = drawer.workshop.file
    back_up(file, tmp_path / "copy.sqlite")
    happen(drawer.workshop, 1, tick)
    with drawer.workshop.held(), pytest.raises(WorkshopError, match="another window has it open"):
        restore(file, tmp_path / "copy.sqlite")
    assert len(drawer.workshop.events(1)) == 4
    restore(file, tmp_path / "copy.sqlite")  # as that window is closed now
    assert len(drawer.workshop.events(1)) == 3


def test_what_fails_on_the_way_back_changes_nothing(
    drawer: Drawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = drawer.workshop.file
    back_up(file, tmp_path / "copy.sqlite")
    happen(drawer.workshop, 1, tick)

    def no_room(_connection: object, _to: Path) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(backup, "_copied", no_room)
        with pytest.raises(WorkshopError, match="No space left"):
            restore(file, tmp_path / "copy.sqlite")
    assert len(drawer.workshop.events(1)) == 4


def test_nothing_is_left_of_a_backup_that_failed(drawer: Drawer, tmp_path: Path) -> None:
    (tmp_path / "copies" / "copy.sqlite").mkdir(parents=True)  # nothing can take its place
    with pytest.raises(PlaceError, match=r"cannot be written \(it is a folder\)"):
        back_up(drawer.workshop.file, tmp_path / "copies" / "copy.sqlite")
    assert [path.name for path in (tmp_path / "copies").iterdir()] == ["copy.sqlite"]


def test_a_copy_made_by_hand_comes_back_too(drawer: Drawer, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(drawer.workshop.file.read_bytes())  # write-ahead logging and all
    happen(drawer.workshop, 1, tick)
    restore(drawer.workshop.file, copy)
    assert len(drawer.workshop.events(1)) == 3


def test_one_backup_a_day_and_a_week_of_them(drawer: Drawer) -> None:
    file = drawer.workshop.file
    folder = file.parent / "backups"
    folder.mkdir()
    for day in range(1, 10):
        (folder / f"daily-2026-03-0{day}-120000-000000.sqlite").write_bytes(b"old")
    back_up_daily(file)
    back_up_daily(file)
    assert len(backups(file)) == 7
    assert trouble(backups(file)[0].path) is None


def test_a_backup_is_made_before_tables_change(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop = Workshop.open(tmp_path / "home")
    workshop.folder.mkdir()
    with closing(sqlite3.connect(workshop.file, isolation_level=None)) as connection:
        migrate(connection, MIGRATIONS[:3])
        connection.execute("INSERT INTO settings VALUES ('units', '\"mm\"')")
    assert workshop.preference("units") == "mm"
    (made,) = backups(workshop.file)
    with closing(sqlite3.connect(made.path)) as connection:
        count = connection.execute("SELECT count(*) FROM migrations").fetchone()
        assert count == (3,)
        assert connection.execute("SELECT * FROM settings").fetchall() == [("units", '"mm"')]
    assert workshop.preference("units") == "mm"
    assert len(backups(workshop.file)) == 1


def test_tables_do_not_change_where_no_backup_can_be_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop = Workshop.open(tmp_path / "home")
    workshop.folder.mkdir()
    with closing(sqlite3.connect(workshop.file, isolation_level=None)) as connection:
        migrate(connection, MIGRATIONS[:3])

    def no_room(_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(database, "back_up_before_change", no_room)
    with pytest.raises(WorkshopError, match="No space left"):
        workshop.preference("units")
    with closing(sqlite3.connect(workshop.file)) as connection:
        assert connection.execute("SELECT count(*) FROM migrations").fetchone() == (3,)


def test_a_new_workshop_needs_no_backup(tmp_path: Path) -> None:
    workshop = Workshop.open(tmp_path)
    workshop.recent()
    assert backups(workshop.file) == ()
    with pytest.raises(WorkshopError, match="no workshop yet"):
        back_up(tmp_path / "elsewhere.sqlite", tmp_path / "copy.sqlite")


@pytest.mark.parametrize("kind", ["missing", "no database", "another database", "newer", "cut off"])
def test_what_is_no_backup_is_refused_and_nothing_changes(
    drawer: Drawer, tmp_path: Path, kind: str
) -> None:
    other = tmp_path / "other.sqlite"
    if kind == "no database":
        other.write_bytes(b"nine cards" * 1000)
    elif kind == "another database":
        with closing(sqlite3.connect(other)) as connection:
            connection.execute("CREATE TABLE songs (name TEXT)")
    elif kind != "missing":
        back_up(drawer.workshop.file, other)
        if kind == "cut off":
            other.write_bytes(other.read_bytes()[:-8192])
        else:
            with closing(sqlite3.connect(other, isolation_level=None)) as connection:
                connection.execute("INSERT INTO migrations (name) VALUES ('from tomorrow')")
    before = drawer.workshop.file.read_bytes()
    with pytest.raises(WorkshopError) as refused:
        restore(drawer.workshop.file, other)
    assert str(refused.value).isprintable()
    assert drawer.workshop.file.read_bytes() == before


def test_a_backup_of_an_earlier_version_is_brought_up_to_date(
    drawer: Drawer, tmp_path: Path
) -> None:
    old = tmp_path / "old.sqlite"
    with closing(sqlite3.connect(old, isolation_level=None)) as connection:
        migrate(connection, MIGRATIONS[:2])
    restore(drawer.workshop.file, old)
    assert drawer.papers() == ()
