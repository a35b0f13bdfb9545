"""Files replaced in one move, by one window at a time, and private ones that others cannot read."""

import os
import re
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from stat import S_IMODE, S_IRUSR, S_IRWXG, S_IRWXO, S_IRWXU, S_IWGRP, S_IWOTH, S_IWUSR

WRITABLE = S_IWUSR | S_IWGRP | S_IWOTH
_OTHERS = S_IRWXG | S_IRWXO
_USUAL = 0o666  # less what the maker's own mask takes away
_NEW = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0)
_LOCK_SECONDS = 10
_TURN_SECONDS = 0.005


class ChangedError(Exception):
    """Raised when another hand has changed a file in the meantime; nothing was written."""


def replace(path: Path, content: bytes, expected: bytes | None = None) -> None:
    """Put `content` at `path` in one move, kept on disk before and after it; a link is followed.

    What is there keeps its mode, and what is being written never has a wider one.

    Args:
        path: the file; there need be none yet.
        content: all that it is to hold.
        expected: what it must hold now, unless it is gone; None for whatever it holds.

    Raises:
        ChangedError: when it holds something else.
        OSError: when it cannot be written.
    """
    path = Path(os.path.realpath(path))
    with _locked(path.parent):
        _tidy(path)
        there = path.exists()
        if there and expected is not None and path.read_bytes() != expected:
            raise ChangedError
        from secrets import token_hex

        draft = path.with_name(f".{path.name}.{token_hex(4)}")
        try:
            _write(draft, content, S_IMODE(path.stat().st_mode) if there else None)
            draft.replace(path)
        finally:
            draft.unlink(missing_ok=True)
        _keep_folder(path.parent)


def tidy(path: Path) -> None:
    """Remove what saving the file at `path` left beside it when it was killed."""
    path = Path(os.path.realpath(path))
    with suppress(OSError), _locked(path.parent):
        _tidy(path)


def make_private(folder: Path, file: Path) -> None:
    """Have `folder` and `file` in it where there is neither, for their owner only.

    A folder that is there may be shared for reasons of its own, and stays as it is; a file in it
    does not.
    """
    if not folder.exists():
        folder.mkdir(parents=True, mode=S_IRWXU, exist_ok=True)
    try:
        mode = file.stat().st_mode
    except FileNotFoundError:
        os.close(os.open(file, os.O_CREAT | os.O_RDWR, S_IRUSR | S_IWUSR))
        return
    if mode & _OTHERS:
        with suppress(PermissionError):  # another's file
            file.chmod(S_IMODE(mode) & ~_OTHERS)


def _write(draft: Path, content: bytes, mode: int | None) -> None:
    opened = os.open(draft, _NEW, S_IRUSR | S_IWUSR if mode is not None else _USUAL)
    with os.fdopen(opened, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    if mode is not None:
        draft.chmod(mode)


def _tidy(path: Path) -> None:
    """Only while nobody else saves in that folder."""
    left = re.compile(rf"\.{re.escape(path.name)}\.[0-9a-f]{{8}}")
    for other in path.parent.iterdir():
        if left.fullmatch(other.name):
            with suppress(OSError):
                other.unlink()


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    """Wait for every other window that saves in `folder`; the lock ends with the process.

    Raises:
        OSError: when the folder cannot be opened, or the lock is not to be had.
    """
    try:
        import fcntl
    except ImportError:  # Windows has no locks of folders
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        end = time.monotonic() + _LOCK_SECONDS
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except BlockingIOError:
                if time.monotonic() > end:
                    raise
                time.sleep(_TURN_SECONDS)
            except OSError:  # a file system without locks, as some in a network are
                break
        yield
    finally:
        os.close(handle)


def _keep_folder(folder: Path) -> None:
    if os.name == "nt":  # folders cannot be opened there, nor need they be
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
