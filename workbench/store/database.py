"""The workshop: the maker's own data, in one SQLite file that survives a crash.

What reads and writes projects, plans and events is imported where it is needed, so that the start
page, which needs none of it, is there at once.
"""

import json
import os
import sqlite3
import time
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, Self

from workbench.store.backup import back_up_before_change
from workbench.store.errors import WAY_BACK, StoreError, WorkshopError, reason
from workbench.store.migrations import SchemaTooNew, migrate
from workbench.store.replacement import make_private

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.making.events import Event
    from workbench.planning import Plan
    from workbench.store.batch_rows import Batch, BatchLine

FILE = "workshop.sqlite"
HOME = "TRIMTALLY_HOME"
MOST_RECENT = 20
_BUSY_SECONDS = 10
_TURN_SECONDS = 0.01

_WRITABLE = "make it and its folder writable, or set TRIMTALLY_HOME to another"
_ELSEWHERE = "move it away, or set TRIMTALLY_HOME to another folder"
_MENDS = {
    sqlite3.SQLITE_READONLY: _WRITABLE,
    sqlite3.SQLITE_CANTOPEN: _WRITABLE,
    sqlite3.SQLITE_FULL: "make room on the disk, then do it again",
    sqlite3.SQLITE_BUSY: "another window or a backup holds it; wait for that, then do it again",
    sqlite3.SQLITE_CORRUPT: WAY_BACK,
    sqlite3.SQLITE_NOTADB: WAY_BACK,
}
_MEND = "see that the disk has room and is sound, then do it again"


class ConflictError(WorkshopError):
    """Raised when another window has already gone on with the batch; nothing was written."""


class Recent(NamedTuple):
    """A project file opened before: where it is, its title, and when it was opened last."""

    path: Path
    title: str
    opened: datetime


@dataclass(frozen=True, slots=True)
class Workshop:
    """The maker's own data: projects opened, preferences, batches and drafts.

    Its file is made when first needed and opened anew for each call, so that any thread may use it.

    Attributes:
        folder: the folder that its file lies in.

    Raises:
        WorkshopError: by every method, when the file cannot be used.
    """

    folder: Path

    @classmethod
    def open(cls, folder: Path | None = None) -> Self:
        """The workshop in `folder`, in $TRIMTALLY_HOME, or where the platform keeps user data."""
        return cls(folder or _home())

    @property
    def file(self) -> Path:
        """Where the database file is, whether it exists or not."""
        return self.folder / FILE

    @property
    def exists(self) -> bool:
        """Whether there is a file already."""
        try:
            return self.file.exists()
        except OSError:
            return True  # what is wrong with it is said when it is opened

    @property
    def stamp(self) -> tuple[int, ...]:
        """A value that changes when anything is written, by any window; cheap to ask."""
        return (*_written(self.file), *_written(self.file.with_name(f"{FILE}-wal")))

    # Projects opened before

    def remember(self, path: Path, title: str) -> None:
        """Note that the project file at `path` was opened just now, and forget the oldest."""
        with self.writing() as connection:
            connection.execute(
                "INSERT INTO recent VALUES (?, ?, ?) ON CONFLICT (path) DO UPDATE "
                "SET title = excluded.title, opened = excluded.opened",
                (os.path.realpath(path), title, _now()),
            )
            connection.execute(
                "DELETE FROM recent WHERE path NOT IN "
                "(SELECT path FROM recent ORDER BY opened DESC LIMIT ?)",
                (MOST_RECENT,),
            )

    def recent(self) -> tuple[Recent, ...]:
        """The projects opened last, the latest first."""
        with self.reading() as connection:
            rows = connection.execute("SELECT path, title, opened FROM recent ORDER BY opened DESC")
            return tuple(
                Recent(Path(path), title, datetime.fromisoformat(opened))
                for path, title, opened in rows
            )

    # Preferences

    def preference(self, key: str) -> Any:
        """The preference kept under `key`, None for none."""
        with self.reading() as connection:
            row = connection.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
            return json.loads(row[0]) if row else None

    def preferences(self) -> dict[str, Any]:
        """All preferences, by their keys."""
        with self.reading() as connection:
            rows = connection.execute("SELECT key, value FROM settings")
            return {key: json.loads(value) for key, value in rows}

    def set_preference(self, key: str, value: Any) -> None:
        """Keep `value`, anything that JSON can hold, under `key`."""
        self.set_preferences({key: value})

    def set_preferences(self, values: Mapping[str, Any]) -> None:
        """Keep all preferences in `values`, by their keys, or none of them where that fails."""
        with self.writing() as connection:
            connection.executemany(
                "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE "
                "SET value = excluded.value",
                [(key, json.dumps(value)) for key, value in values.items()],
            )

    # Batches

    def create_batch(self, project: "Project", path: Path | None, plan: "Plan") -> int:
        """Begin a batch with copies of `project` and `plan`, and reserve its paper in the drawer.

        Args:
            project: what is made.
            path: the project's file, None where it has none.
            plan: what it is made by.

        Returns:
            The new batch's id.

        Raises:
            StockShortError: where the drawer has too few free sheets by now.
        """
        from workbench.store import draws
        from workbench.store.batch_rows import Batch, insert_batch

        with self.writing() as connection:
            at = datetime.fromisoformat(_now())
            file = os.path.realpath(path) if path else None
            batch_id = insert_batch(connection, project, file, plan, at)
            draws.begin(connection, batch_id, Batch(project, plan, (), path, at))
            return batch_id

    def batch(self, batch_id: int) -> "Batch":
        """The batch of that id.

        Raises:
            StoreError: when the copies kept with it are damaged.
            WorkshopError: when there is none, or the file cannot be used.
        """
        from workbench.store.batch_rows import read_batch

        with self.reading() as connection:
            batch = read_batch(connection, batch_id)
            if batch is None:
                raise self._no_batch(batch_id)
            return batch

    def batches(self) -> "tuple[BatchLine, ...]":
        """Every batch, those that are not over first; the one worked on last before others."""
        from workbench.store.batch_rows import read_lines

        with self.reading() as connection:
            return read_lines(connection)

    def put_away(self, batch_id: int, *, away: bool = True) -> None:
        """Put a batch away, or take it out again where `away` is false."""
        with self.writing() as connection:
            connection.execute("UPDATE batches SET away = ? WHERE id = ?", (away, batch_id))

    def remove_batch(self, batch_id: int) -> None:
        """Delete a batch and all its events; what it still reserves is free again."""
        from workbench.store import draws

        with self.writing() as connection:
            draws.release(connection, batch_id)
            connection.execute("DELETE FROM events WHERE batch = ?", (batch_id,))
            connection.execute("DELETE FROM batches WHERE id = ?", (batch_id,))

    def append(self, batch_id: int, event: "Event", expected_seq: int) -> int:
        """Add an event to a batch; it is on disk when this returns.

        What it takes from the drawer, or gives back, moves in the same transaction.

        Args:
            batch_id: the batch.
            event: what has happened.
            expected_seq: the number that the event shall have, one more than the last it knows of.

        Returns:
            `expected_seq`.

        Raises:
            ConflictError: with nothing written, when that is not the next number.
            StockShortError: with nothing written, when what it takes again is not there any more.
            WorkshopError: when there is no such batch, or the file cannot be used.
        """
        from workbench.store import draws
        from workbench.store.batch_rows import insert_event

        with self.writing() as connection:
            if not connection.execute("SELECT 1 FROM batches WHERE id = ?", (batch_id,)).fetchone():
                raise self._no_batch(batch_id)
            (last,) = connection.execute(
                "SELECT coalesce(max(seq), 0) FROM events WHERE batch = ?", (batch_id,)
            ).fetchone()
            if expected_seq != last + 1:
                raise ConflictError(
                    f"batch {batch_id}",
                    "another window has gone on with it",
                    "look at where it stands now, then go on from there",
                )
            insert_event(connection, batch_id, expected_seq, event)
            draws.happened(connection, batch_id, event)
        return expected_seq

    def events(self, batch_id: int, after_seq: int = 0) -> "tuple[Event, ...]":
        """The events of a batch after number `after_seq`, in order."""
        from workbench.store.batch_rows import read_events

        with self.reading() as connection:
            return read_events(connection, batch_id, after_seq)

    # The file

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the file open meanwhile, so that each write costs one flush to disk.

        SQLite makes a checkpoint when the last connection closes, which takes longer than a tick
        may.
        """
        with self.reading():
            yield

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection in autocommit mode to the file, its tables up to date; closed at the end."""
        try:
            make_private(self.folder, self.file)
            if not self.file.is_file():
                raise WorkshopError(str(self.file), "it is no file", _ELSEWHERE)
            with closing(_connection(self.file)) as connection:
                migrate(connection, before=back_up_before_change)
                yield connection
        except SchemaTooNew as error:
            raise WorkshopError(
                str(self.file), "a newer Trimtally has used it", "bring this one up to date"
            ) from error
        except StoreError:
            raise
        except (sqlite3.Error, OSError, ValueError, TypeError, _damaged()) as error:
            raise _unusable(self.file, error) from error

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A connection in a transaction: committed at the end, undone when anything is raised."""
        with self.reading() as connection:
            connection.execute("BEGIN IMMEDIATE")
            yield connection
            connection.execute("COMMIT")

    def _no_batch(self, batch_id: int) -> WorkshopError:
        return WorkshopError(
            str(self.file), f"it holds no batch {batch_id}", "choose one from the list of batches"
        )


def _home() -> Path:
    if home := os.environ.get(HOME):
        return Path(home)
    from platformdirs import user_data_path

    return user_data_path("trimtally", appauthor=False)


def _connection(file: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(file, timeout=_BUSY_SECONDS, isolation_level=None)
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        _write_ahead(connection)
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Wait for a turn here: SQLite waits with every statement but this one."""
    end = time.monotonic() + _BUSY_SECONDS
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_BUSY or time.monotonic() > end:
                raise
            time.sleep(_TURN_SECONDS)
        else:
            return


def _written(file: Path) -> tuple[int, int]:
    try:
        stat = file.stat()
    except OSError:
        return 0, 0
    return stat.st_mtime_ns, stat.st_size


def _unusable(file: Path, error: Exception) -> WorkshopError:
    # The lowest byte says what; the others only say where inside SQLite.
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    mend = _MENDS.get(code, _MEND)
    if isinstance(error, PermissionError):
        mend = _WRITABLE
    elif isinstance(error, NotADirectoryError | FileExistsError):
        mend = _ELSEWHERE
    return WorkshopError(str(file), f"it cannot be used ({reason(error)})", mend)


def _damaged() -> type[Exception]:
    """What is raised, beside ValueError and TypeError, for rows that hold what they should not."""
    from msgspec import ValidationError

    return ValidationError


def _now() -> str:
    return datetime.now(UTC).isoformat()
