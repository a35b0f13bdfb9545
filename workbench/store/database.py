"""The workshop: the maker's own data, in one SQLite file that survives a crash."""

import json
import os
import sqlite3
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import Any, NamedTuple, Self

import msgspec

from workbench.craft.project import Project
from workbench.making.batch import State, applied
from workbench.making.events import Event
from workbench.planning import Plan
from workbench.store.dump import project_text
from workbench.store.errors import StoreError, WorkshopError
from workbench.store.event_data import carried, event_kept
from workbench.store.load import project_from_text
from workbench.store.migrations import SchemaTooNew, migrate
from workbench.store.plan_data import plan_from_data, plan_to_data

FILE = "workshop.sqlite"
HOME = "TRIMTALLY_HOME"
MOST_RECENT = 20
_BUSY_SECONDS = 10
_TURN_SECONDS = 0.01

_WRITABLE = "make it and its folder writable, or set TRIMTALLY_HOME to another"
_MENDS = {
    sqlite3.SQLITE_READONLY: _WRITABLE,
    sqlite3.SQLITE_CANTOPEN: _WRITABLE,
    sqlite3.SQLITE_FULL: "make room on the disk, then do it again",
    sqlite3.SQLITE_BUSY: "another window or a backup holds it; wait for that, then do it again",
    sqlite3.SQLITE_CORRUPT: "put a copy of it back, or move it away to start with an empty one",
    sqlite3.SQLITE_NOTADB: "put a copy of it back, or move it away to start with an empty one",
}
_MEND = "check the disk, then do it again"


class ConflictError(WorkshopError):
    """Raised when another window has already gone on with the batch; nothing was written."""


class Recent(NamedTuple):
    """A project file opened before."""

    path: Path
    title: str
    opened: datetime


class Batch(NamedTuple):
    """A batch as it was begun, and all that has happened to it; event number n has `seq` n.

    `path` is the project's file, None where it had none.
    """

    project: Project
    plan: Plan
    events: tuple[Event, ...]
    path: Path | None
    started: datetime


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One line in the list of batches; `worked` is the time of the last event, or of the start.

    One that was put `away` is kept, but not offered to go on with.
    """

    id: int
    title: str
    path: Path | None
    done: int
    steps: int
    worked: datetime
    away: bool

    @property
    def finished(self) -> bool:
        return self.done == self.steps


@dataclass(frozen=True, slots=True)
class Workshop:
    """Opens its file anew for each call, so that any thread may use it; made when first needed.

    Every method raises WorkshopError when the file cannot be used.
    """

    folder: Path

    @classmethod
    def open(cls, folder: Path | None = None) -> Self:
        """The workshop in `folder`, in $TRIMTALLY_HOME, or where the platform keeps user data."""
        return cls(folder or _home())

    @property
    def file(self) -> Path:
        return self.folder / FILE

    @property
    def exists(self) -> bool:
        try:
            return self.file.exists()
        except OSError:
            return True  # what is wrong with it is said when it is opened

    @property
    def stamp(self) -> tuple[int, ...]:
        """Changes when anything is written, by whichever window; costs next to nothing to ask."""
        return (*_written(self.file), *_written(self.file.with_name(f"{FILE}-wal")))

    # Projects opened before

    def remember(self, path: Path, title: str) -> None:
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

    # Settings

    def setting(self, key: str) -> Any:
        """What is kept under `key`; None for nothing."""
        with self.reading() as connection:
            row = connection.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
            return json.loads(row[0]) if row else None

    def settings(self) -> dict[str, Any]:
        """Everything that is kept as a setting, by its key."""
        with self.reading() as connection:
            rows = connection.execute("SELECT key, value FROM settings")
            return {key: json.loads(value) for key, value in rows}

    def set_setting(self, key: str, value: Any) -> None:
        """Keep `value`, anything that JSON can hold."""
        self.set_settings({key: value})

    def set_settings(self, values: Mapping[str, Any]) -> None:
        """Keep them all, or none where that fails."""
        with self.writing() as connection:
            connection.executemany(
                "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE "
                "SET value = excluded.value",
                [(key, json.dumps(value)) for key, value in values.items()],
            )

    # Batches

    def create_batch(self, project: Project, path: Path | None, plan: Plan) -> int:
        """Begin a batch with copies of its project and plan; returns its id."""
        with self.writing() as connection:
            written = connection.execute(
                "INSERT INTO batches (path, title, project, plan, makeable, created) "
                "VALUES (?, ?, ?, ?, ?, ?)",
                (
                    path and os.path.realpath(path),
                    project.title,
                    project_text(project),
                    json.dumps(plan_to_data(plan, project.units)),
                    plan.makeable,
                    _now(),
                ),
            )
            # sqlite3 knows the id of every row that it has inserted.
            assert written.lastrowid is not None
            return written.lastrowid

    def batch(self, batch_id: int) -> Batch:
        """Raises StoreError when the copies kept with it are damaged."""
        with self.reading() as connection:
            row = connection.execute(
                "SELECT project, plan, makeable, path, created FROM batches WHERE id = ?",
                (batch_id,),
            ).fetchone()
            if row is None:
                raise self._no_batch(batch_id)
            text, plan, makeable, path, created = row
            return Batch(
                project_from_text(text, f"batch {batch_id}"),
                plan_from_data(json.loads(plan), makeable),
                _events(connection, batch_id, after=0),
                Path(path) if path else None,
                datetime.fromisoformat(created),
            )

    def batches(self) -> tuple[BatchLine, ...]:
        """Every batch, the unfinished first, and of those the one worked on last."""
        with self.reading() as connection:
            happened = _events_by_batch(connection)
            rows = connection.execute(
                "SELECT id, title, path, json_array_length(plan, '$.steps'), created, away "
                "FROM batches"
            )
            lines = [_line(row, happened.get(row[0], ())) for row in rows]
        lines.sort(key=lambda line: (line.worked, line.id), reverse=True)
        return tuple(sorted(lines, key=lambda line: line.finished))

    def put_away(self, batch_id: int, *, away: bool = True) -> None:
        """Put a batch away, or take it out again."""
        with self.writing() as connection:
            connection.execute("UPDATE batches SET away = ? WHERE id = ?", (away, batch_id))

    def remove_batch(self, batch_id: int) -> None:
        """Forget a batch and all that has happened to it."""
        with self.writing() as connection:
            connection.execute("DELETE FROM events WHERE batch = ?", (batch_id,))
            connection.execute("DELETE FROM batches WHERE id = ?", (batch_id,))

    def append(self, batch_id: int, event: Event, expected_seq: int) -> int:
        """Add `event` as number `expected_seq` of its batch and return that; it is then on disk.

        Raises ConflictError, with nothing written, when that number is not the next.
        """
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
            at = event.at.astimezone(UTC).isoformat()
            connection.execute(
                "INSERT INTO events VALUES (?, ?, ?, ?, ?, ?)",
                (batch_id, expected_seq, event.what, event.step, at, carried(event)),
            )
        return expected_seq

    def events(self, batch_id: int, after_seq: int = 0) -> tuple[Event, ...]:
        """What has happened to a batch since its event number `after_seq`."""
        with self.reading() as connection:
            return _events(connection, batch_id, after_seq)

    # The file

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the file open meanwhile, so that each thing written is flushed to disk just once.

        SQLite tidies up when the last one closes the file, which takes longer than a tick may.
        """
        with self.reading():
            yield

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with closing(_connection(self.file)) as connection:
                migrate(connection)
                yield connection
        except SchemaTooNew as error:
            raise WorkshopError(
                str(self.file), "a newer Trimtally has used it", "bring this one up to date"
            ) from error
        except StoreError:
            raise
        except (sqlite3.Error, OSError, ValueError, msgspec.ValidationError) as error:
            raise _unusable(self.file, error) from error

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction: kept whole at the end, dropped whole when anything is raised."""
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
    why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    mend = _WRITABLE if isinstance(error, PermissionError) else _MENDS.get(code, _MEND)
    return WorkshopError(str(file), f"it cannot be used ({why})", mend)


def _now() -> str:
    return datetime.now(UTC).isoformat()


def _events(connection: sqlite3.Connection, batch_id: int, after: int) -> tuple[Event, ...]:
    rows = connection.execute(
        "SELECT what, step, at, carries FROM events WHERE batch = ? AND seq > ? ORDER BY seq",
        (batch_id, after),
    )
    return tuple(event_kept(*row) for row in rows)


def _events_by_batch(connection: sqlite3.Connection) -> dict[int, tuple[Event, ...]]:
    rows = connection.execute(
        "SELECT batch, what, step, at, carries FROM events ORDER BY batch, seq"
    )
    return {
        batch_id: tuple(event_kept(*row[1:]) for row in group)
        for batch_id, group in groupby(rows, key=itemgetter(0))
    }


def _line(row: tuple[int, str, str | None, int, str, int], events: Iterable[Event]) -> BatchLine:
    batch_id, title, path, steps, created, away = row
    state, worked = State(steps), datetime.fromisoformat(created)
    for event in events:
        state, worked = applied(state, event), event.at
    there = Path(path) if path else None
    return BatchLine(batch_id, title, there, state.done, state.steps, worked, bool(away))
