"""The tables of the workshop, and how an older workshop is brought up to date."""

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Migration:
    """One change of the tables; once released, it stays as it is.

    Attributes:
        name: what it adds; a database remembers by it that it was made.
        statements: the SQL that makes it, in order.
    """

    name: str
    statements: tuple[str, ...]


class SchemaTooNew(Exception):  # noqa: N818 - a refusal, not a fault
    """Raised when a later version of the program has changed the tables."""


MIGRATIONS = (
    Migration(
        "recent projects, settings, batches and their events",
        (
            """CREATE TABLE recent (
                path TEXT PRIMARY KEY, title TEXT NOT NULL, opened TEXT NOT NULL
            )""",
            "CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL)",
            """CREATE TABLE batches (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                path TEXT,
                title TEXT NOT NULL,
                project TEXT NOT NULL,
                plan TEXT NOT NULL,
                makeable INTEGER NOT NULL,
                created TEXT NOT NULL
            )""",
            """CREATE TABLE events (
                batch INTEGER NOT NULL REFERENCES batches (id),
                seq INTEGER NOT NULL,
                what TEXT NOT NULL,
                step INTEGER NOT NULL,
                at TEXT NOT NULL,
                UNIQUE (batch, seq)
            )""",
        ),
    ),
    Migration(
        "what events carry beside their step",
        ("ALTER TABLE events ADD COLUMN carries TEXT",),
    ),
    Migration(
        "batches that are put away",
        ("ALTER TABLE batches ADD COLUMN away INTEGER NOT NULL DEFAULT 0",),
    ),
    Migration(
        "drafts of what is not saved yet",
        (
            """CREATE TABLE drafts (
                key TEXT PRIMARY KEY,
                path TEXT,
                title TEXT NOT NULL,
                project TEXT NOT NULL,
                base BLOB NOT NULL,
                kept TEXT NOT NULL
            )""",
        ),
    ),
)
_LIST = """CREATE TABLE IF NOT EXISTS migrations (
    name TEXT PRIMARY KEY, applied TEXT NOT NULL DEFAULT CURRENT_TIMESTAMP
)"""


def migrate(connection: sqlite3.Connection, migrations: Sequence[Migration] = MIGRATIONS) -> None:
    """Apply the migrations that are missing: all of them or, when anything fails, none.

    Args:
        connection: a database in autocommit mode.
        migrations: all there are, in order.

    Raises:
        SchemaTooNew: when the database knows a migration that is none of these.
        sqlite3.Error: when it cannot be used.
    """
    if not _missing(connection, migrations):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        connection.execute(_LIST)
        # Asked again: another window may have been quicker.
        for migration in _missing(connection, migrations):
            for statement in migration.statements:
                connection.execute(statement)
            connection.execute("INSERT INTO migrations (name) VALUES (?)", (migration.name,))
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _missing(connection: sqlite3.Connection, migrations: Sequence[Migration]) -> list[Migration]:
    applied = _applied(connection)
    if applied - {migration.name for migration in migrations}:
        raise SchemaTooNew
    return [migration for migration in migrations if migration.name not in applied]


def _applied(connection: sqlite3.Connection) -> set[str]:
    listed = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'migrations'").fetchone()
    if not listed:
        return set()
    return {name for (name,) in connection.execute("SELECT name FROM migrations")}
