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


# From every earlier version

FILLED = {
    "settings": "INSERT INTO settings VALUES ('units', '\"mm\"')",
    "recent": "INSERT INTO recent VALUES ('/a.toml', 'A', '2026-01-01T00:00:00+00:00')",
    "batches": "INSERT INTO batches (title, project, plan, makeable, created) "
    "VALUES ('A', 'p', '{}', 1, '2026-01-01T00:00:00+00:00')",
    "events": "INSERT INTO events (batch, seq, what, step, at) "
    "VALUES (1, 1, 'ticked', 1, '2026-01-01T00:00:00+00:00')",
}


def filled(connection: sqlite3.Connection, version: int) -> dict[str, list[tuple[object, ...]]]:
    """A workshop as that version left it, with something in it; what each table holds."""
    migrate(connection, MIGRATIONS[:version])
    for statement in FILLED.values():
        connection.execute(statement)
    return held(connection)


def held(connection: sqlite3.Connection) -> dict[str, list[tuple[object, ...]]]:
    return {table: connection.execute(f"SELECT * FROM {table}").fetchall() for table in FILLED}


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_every_earlier_version_is_brought_up_to_date(
    connection: sqlite3.Connection, version: int
) -> None:
    before = filled(connection, version)
    migrate(connection)
    assert names(connection) == [migration.name for migration in MIGRATIONS]
    for table, rows in held(connection).items():
        # What a table gained stands behind what it had.
        width = len(before[table][0])
        assert [row[:width] for row in rows] == before[table]


FAILURES = [
    (version, at)
    for version in range(1, len(MIGRATIONS))
    for at in range(sum(len(migration.statements) for migration in MIGRATIONS[version:]) + 1)
]


@pytest.mark.parametrize(("version", "at"), FAILURES)
def test_a_failure_at_any_statement_leaves_the_version_before(
    connection: sqlite3.Connection, version: int, at: int
) -> None:
    before, schema = filled(connection, version), _schema(connection)
    done = 0
    broken = []
    for migration in MIGRATIONS[version:]:
        here = max(0, min(at - done, len(migration.statements)))
        failing = here < len(migration.statements) or at == done + here
        statements = (*migration.statements[:here], *(["INSERT INTO nowhere VALUES (1)"] * failing))
        broken.append(Migration(migration.name, statements))
        done += len(migration.statements)
    with pytest.raises(sqlite3.OperationalError, match="nowhere"):
        migrate(connection, (*MIGRATIONS[:version], *broken))
    assert (held(connection), _schema(connection)) == (before, schema)
    migrate(connection)
    assert names(connection) == [migration.name for migration in MIGRATIONS]


def _schema(connection: sqlite3.Connection) -> list[tuple[object, ...]]:
    return connection.execute("SELECT name, sql FROM sqlite_master ORDER BY name").fetchall()
