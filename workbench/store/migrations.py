"""The tables of the workshop, and how an older workshop is brought up to date."""

import sqlite3
from collections.abc import Callable, Sequence
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
    Migration(
        "the paper drawer",
        (
            # `key` is how project files name a paper; `merged` names the paper it was merged into.
            """CREATE TABLE papers (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                key TEXT NOT NULL UNIQUE,
                name TEXT NOT NULL,
                data TEXT NOT NULL,
                removed INTEGER NOT NULL DEFAULT 0,
                merged INTEGER REFERENCES papers (id)
            )""",
            "CREATE INDEX papers_by_name ON papers (name)",
            # The sheets of a paper (no size), or its offcuts of one size.
            """CREATE TABLE lots (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                paper INTEGER NOT NULL REFERENCES papers (id),
                size TEXT NOT NULL DEFAULT '',
                bought INTEGER NOT NULL DEFAULT 0,
                on_hand INTEGER NOT NULL DEFAULT 0 CHECK (on_hand >= 0),
                reserved INTEGER NOT NULL DEFAULT 0 CHECK (reserved >= 0),
                used INTEGER NOT NULL DEFAULT 0 CHECK (used >= 0),
                thrown INTEGER NOT NULL DEFAULT 0 CHECK (thrown >= 0),
                since TEXT NOT NULL,
                UNIQUE (paper, size),
                CHECK (bought = on_hand + reserved + used + thrown)
            )""",
            # Changes made by hand, each with what it changed, so that it can be taken back.
            """CREATE TABLE changes (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                at TEXT NOT NULL,
                words TEXT NOT NULL,
                papers TEXT NOT NULL,
                undone INTEGER NOT NULL DEFAULT 0
            )""",
            # Every change of every count, only ever added to.
            """CREATE TABLE movements (
                id INTEGER PRIMARY KEY,
                at TEXT NOT NULL,
                lot INTEGER NOT NULL REFERENCES lots (id),
                batch INTEGER,
                change INTEGER REFERENCES changes (id),
                bought INTEGER NOT NULL,
                on_hand INTEGER NOT NULL,
                reserved INTEGER NOT NULL,
                used INTEGER NOT NULL,
                thrown INTEGER NOT NULL,
                CHECK (bought = on_hand + reserved + used + thrown)
            )""",
            "CREATE INDEX movements_by_lot ON movements (lot)",
            "CREATE INDEX movements_by_batch ON movements (batch) WHERE batch IS NOT NULL",
            "CREATE INDEX movements_by_change ON movements (change) WHERE change IS NOT NULL",
            # Which paper of a batch is which of the drawer's.
            """CREATE TABLE links (
                batch INTEGER NOT NULL REFERENCES batches (id),
                name TEXT NOT NULL,
                paper INTEGER NOT NULL REFERENCES papers (id),
                PRIMARY KEY (batch, name)
            )""",
            # Which step of a batch opens what; a batch without links has none, and no `done`.
            """CREATE TABLE openings (
                batch INTEGER NOT NULL REFERENCES batches (id),
                step INTEGER NOT NULL,
                lot INTEGER NOT NULL REFERENCES lots (id),
                count INTEGER NOT NULL,
                opened INTEGER NOT NULL DEFAULT 0,
                PRIMARY KEY (batch, step, lot)
            ) WITHOUT ROWID""",
            "ALTER TABLE batches ADD COLUMN done INTEGER",
            "ALTER TABLE batches ADD COLUMN steps INTEGER",
        ),
    ),
    Migration(
        "who got which card",
        (
            """CREATE TABLE recipients (
                batch INTEGER NOT NULL REFERENCES batches (id),
                card INTEGER NOT NULL,
                name TEXT NOT NULL,
                PRIMARY KEY (batch, card)
            ) WITHOUT ROWID""",
        ),
    ),
    Migration(
        "the least useful offcut of each batch",
        (
            # Offcuts it gives back go by what held when it came to the drawer.
            "ALTER TABLE batches ADD COLUMN least TEXT",
            """UPDATE batches SET least =
                (SELECT value FROM settings WHERE key = 'least useful offcut')
                WHERE done IS NOT NULL""",
        ),
    ),
)
_LIST = """CREATE TABLE IF NOT EXISTS migrations (
    name TEXT PRIMARY KEY, applied TEXT NOT NULL DEFAULT CURRENT_TIMESTAMP
)"""


def migrate(
    connection: sqlite3.Connection,
    migrations: Sequence[Migration] = MIGRATIONS,
    before: Callable[[sqlite3.Connection], object] | None = None,
) -> None:
    """Apply the migrations that are missing: all of them or, when anything fails, none.

    Args:
        connection: a database in autocommit mode.
        migrations: all there are, in order.
        before: called with the connection when tables that hold something are about to change.

    Raises:
        SchemaTooNew: when the database knows a migration that is none of these.
        sqlite3.Error: when it cannot be used.
        WorkshopError: as `before` raises it.
    """
    if not _missing(connection, migrations):
        return
    if before and names_applied(connection):
        before(connection)
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
    applied = names_applied(connection)
    if applied - {migration.name for migration in migrations}:
        raise SchemaTooNew
    return [migration for migration in migrations if migration.name not in applied]


def names_applied(connection: sqlite3.Connection) -> set[str]:
    """The migrations that were applied, by name; none where there are no tables."""
    listed = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'migrations'").fetchone()
    if not listed:
        return set()
    return {name for (name,) in connection.execute("SELECT name FROM migrations")}
