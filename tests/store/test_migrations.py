"""The workshop's tables are brought up to date whole, or not at all."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from workbench.store.migrations import MIGRATIONS, Migration, SchemaTooNew, migrate

NEXT = Migration(
    "boxes",
    ("CREATE TABLE boxes (name TEXT)", "INSERT INTO boxes VALUES ('scrap')"),
)
FAILING = Migration(
    "shelves", ("CREATE TABLE shelves (name TEXT)", "INSERT INTO nowhere VALUES (1)")
)


@pytest.fixture
def connection(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(tmp_path / "it.sqlite", isolation_level=None)) as connection:
        yield connection


def tables(connection: sqlite3.Connection) -> set[str]:
    rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    return {name for (name,) in rows if not name.startswith("sqlite_")}


def names(connection: sqlite3.Connection) -> list[str]:
    return [name for (name,) in connection.execute("SELECT name FROM migrations ORDER BY rowid")]


def test_a_new_workshop_gets_every_table_and_each_migration_is_recorded(
    connection: sqlite3.Connection,
) -> None:
    migrate(connection)
    kept = {"recent", "settings", "batches", "events", "drafts", "recipients"}
    drawer = {"papers", "lots", "changes", "movements", "links", "openings"}
    assert tables(connection) == {"migrations", *kept, *drawer}
    assert names(connection) == [migration.name for migration in MIGRATIONS]


def test_migrating_twice_changes_nothing(connection: sqlite3.Connection) -> None:
    migrate(connection)
    changes = connection.total_changes
    migrate(connection)
    assert connection.total_changes == changes


def test_an_older_workshop_keeps_what_it_holds(connection: sqlite3.Connection) -> None:
    migrate(connection)
    connection.execute("INSERT INTO settings VALUES ('units', '\"mm\"')")
    migrate(connection, (*MIGRATIONS, NEXT))
    assert connection.execute("SELECT * FROM settings").fetchall() == [("units", '"mm"')]
    assert connection.execute("SELECT * FROM boxes").fetchall() == [("scrap",)]
    assert names(connection)[-1] == "boxes"


def test_a_failing_migration_leaves_no_trace(connection: sqlite3.Connection) -> None:
    migrate(connection)
    before = tables(connection)
    with pytest.raises(sqlite3.OperationalError):
        migrate(connection, (*MIGRATIONS, NEXT, FAILING))
    assert tables(connection) == before
    assert names(connection) == [migration.name for migration in MIGRATIONS]
    migrate(connection, (*MIGRATIONS, NEXT))
    assert "boxes" in tables(connection)


def test_a_newer_workshop_is_left_alone(connection: sqlite3.Connection) -> None:
    migrate(connection, (*MIGRATIONS, NEXT))
    with pytest.raises(SchemaTooNew):
        migrate(connection)
