"""Backups of the whole workshop, each in one file, and the way back from a damaged one."""

import sqlite3
import time
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from workbench.store.errors import WorkshopError, reason
from workbench.store.migrations import MIGRATIONS, names_applied
from workbench.store.places import check_place, unwritable
from workbench.store.replacement import make_private

FOLDER = "backups"
SUFFIX = ".sqlite"
_BEFORE, _DAILY = "before-update", "daily"
_MOST_DAILY = 7
_PAGES = 256
_TURN_SECONDS = 5.0
_LOOK_SECONDS = 0.02
_TIME = "%Y-%m-%d-%H%M%S-%f"
_HELD = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


class Backup(NamedTuple):
    """A backup that was made by itself."""

    path: Path
    made: datetime


def back_up(file: Path, to: Path) -> None:
    """Copy the workshop in `file` to `to`, while others may go on writing in it.

    `to` is there whole or not at all (SQLite's backup API, then a rename).

    Raises:
        WorkshopError: where there is none, and for the workshop itself.
        PlaceError: where `to` cannot be written.
    """
    if not file.is_file():
        raise WorkshopError(str(file), "there is no workshop yet", "there is nothing to back up")
    check_place(to)
    if to.exists() and to.samefile(file):
        raise WorkshopError(str(to), "it is the workshop itself", "name another file")
    _back_up(file, to)


def _back_up(file: Path, to: Path) -> None:
    try:
        with closing(sqlite3.connect(file)) as connection:
            _copied(connection, to)
    except (sqlite3.Error, OSError, UnicodeError) as error:
        raise unwritable(to, error) from error


def back_up_before_change(connection: sqlite3.Connection) -> None:
    """Keep a copy beside the workshop before its tables change."""
    _copied(connection, _automatic(_file_of(connection), _BEFORE))


def back_up_daily(file: Path) -> None:
    """Keep a copy beside the workshop unless there is one of today; those of a week are kept."""
    made = [backup for backup in backups(file) if backup.path.name.startswith(_DAILY)]
    if not file.exists() or any(_same_day(backup.made) for backup in made):
        return
    _back_up(file, _automatic(file, _DAILY))
    for old in made[_MOST_DAILY - 1 :]:
        with suppress(OSError):
            old.path.unlink()


def backups(file: Path) -> tuple[Backup, ...]:
    """The copies that were kept beside the workshop, the latest first."""
    found = []
    with suppress(OSError):
        for path in (file.parent / FOLDER).glob(f"*{SUFFIX}"):
            word = path.stem.removeprefix(f"{_BEFORE}-").removeprefix(f"{_DAILY}-")
            with suppress(ValueError):
                found.append(Backup(path, datetime.strptime(word, _TIME).replace(tzinfo=UTC)))
    return tuple(sorted(found, key=lambda backup: backup.made, reverse=True))


def trouble(file: Path) -> str | None:
    """What SQLite finds wrong with the file, in its words; None where all is well.

    It reads every page, so it is asked once when the app opens and by `stock audit`.
    """
    if not file.is_file():
        return None  # said by whoever needs it; of a pipe SQLite would wait for words without end
    try:
        with closing(sqlite3.connect(f"file:{_quoted(file)}?mode=ro", uri=True)) as connection:
            (found,) = connection.execute("PRAGMA quick_check(1)").fetchone()
            return None if found == "ok" else str(found)
    except sqlite3.OperationalError:
        return None  # it is held by another: said by whoever needs it
    except (sqlite3.Error, UnicodeError) as error:  # it quotes what it cannot read
        return str(error)


def restore(file: Path, backup: Path) -> Path | None:
    """Put the workshop in `backup` in the place of the one in `file`, however that is.

    What was there is kept in a folder beside it, not lost; returns that folder, None where there
    was nothing. A process killed meanwhile leaves the one or the other, whole.

    Raises:
        WorkshopError: where `backup` is no sound workshop of this version or before, where another
            window has the workshop open, or where it cannot be written.
    """
    _check(backup)
    aside = _aside(file)
    try:
        if not file.is_file():
            moved = _exchange(file, backup, aside)
            return aside if moved else None
        try:
            _overwrite(file, backup, aside)
        except (sqlite3.DatabaseError, UnicodeError) as error:
            if isinstance(error, sqlite3.Error) and _code(error) not in _DAMAGED:
                raise
            _exchange(file, backup, aside)
    except (sqlite3.Error, OSError, UnicodeError) as error:
        if _code(error) in _HELD:
            raise WorkshopError(
                str(file),
                "another window has it open",
                "close every other window of Trimtally, then do it again",
            ) from error
        raise WorkshopError(
            str(backup),
            f"it cannot be put back ({reason(error)})",
            "make room and the folder writable",
        ) from error
    return aside


def _overwrite(file: Path, backup: Path, aside: Path) -> None:
    """Write `backup` over all that is in `file`, in one transaction that no window comes between.

    Moving the file away instead would leave whoever has it open writing into what was moved.
    """
    with closing(sqlite3.connect(file, timeout=_TURN_SECONDS, isolation_level=None)) as live:
        _take_alone(live)
        _copied(live, aside / file.name)
        with closing(sqlite3.connect(backup)) as source:
            source.backup(live)


def _exchange(file: Path, backup: Path, aside: Path) -> bool:
    """Move away what SQLite cannot read, its log too, and put `backup` there: whether any was."""
    moved = False
    for name in (file.name, f"{file.name}-wal", f"{file.name}-shm"):
        if (there := file.with_name(name)).exists():
            aside.mkdir(parents=True, exist_ok=True)
            there.rename(aside / name)
            moved = True
    with closing(sqlite3.connect(backup)) as source:
        _copied(source, file)
    return moved


def _take_alone(connection: sqlite3.Connection) -> None:
    """Keep every other connection out until this one closes; a brief one is waited for.

    SQLite leaves write-ahead logging only for the one connection there is.
    """
    connection.execute("PRAGMA locking_mode = EXCLUSIVE")
    end = time.monotonic() + _TURN_SECONDS
    while True:
        try:
            connection.execute("PRAGMA journal_mode = DELETE")
            connection.execute("BEGIN EXCLUSIVE")
            connection.execute("COMMIT")
        except sqlite3.OperationalError as error:
            if _code(error) not in _HELD or time.monotonic() > end:
                raise
            time.sleep(_LOOK_SECONDS)
        else:
            return


def _code(error: Exception) -> int:
    # The lowest byte says what; the others only say where inside SQLite.
    return getattr(error, "sqlite_errorcode", 0) & 0xFF


def _check(backup: Path) -> None:
    if not backup.is_file():
        found = "it is no file" if backup.exists() else "there is no such file"
        raise WorkshopError(str(backup), found, "name a backup's file")
    wrong = trouble(backup)
    if wrong is None:
        try:
            with closing(sqlite3.connect(backup)) as connection:
                names = names_applied(connection)
        except (sqlite3.Error, UnicodeError) as error:
            wrong = str(error)
        else:
            if names - {migration.name for migration in MIGRATIONS}:
                raise WorkshopError(
                    str(backup), "a newer Trimtally has made it", "bring this one up to date"
                )
            if not names:
                wrong = "it holds no workshop"
    if wrong:
        raise WorkshopError(str(backup), f"it is no sound backup ({wrong})", "take another one")


def _copied(connection: sqlite3.Connection, to: Path) -> None:
    part = to.with_name(f"{to.name}.part")
    part.unlink(missing_ok=True)
    try:
        make_private(to.parent, part)
        with closing(sqlite3.connect(part)) as copy:
            connection.backup(copy, pages=_PAGES)
            # A copy in one file, that needs no log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
        part.replace(to)
    except BaseException:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def _file_of(connection: sqlite3.Connection) -> Path:
    return Path(connection.execute("PRAGMA database_list").fetchone()[2])


def _automatic(file: Path, why: str) -> Path:
    return file.parent / FOLDER / f"{why}-{datetime.now(UTC):{_TIME}}{SUFFIX}"


def _aside(file: Path) -> Path:
    return file.parent / f"replaced-{datetime.now(UTC):{_TIME}}"


def _same_day(made: datetime) -> bool:
    return made.date() == datetime.now(UTC).date()


def _quoted(file: Path) -> str:
    from urllib.parse import quote

    return quote(str(file.absolute()))
