"""Whether a file can be written at a place, and one way of saying why it cannot."""

import errno
import os
from pathlib import Path
from stat import S_ISDIR, S_ISREG

from workbench.store.errors import StoreError, reason
from workbench.store.replacement import WRITABLE, replace

_WORDS = {
    errno.ENOSPC: ("no room is left on that disk", "make room, or name a file elsewhere"),
    errno.EROFS: ("that disk can only be read", "name a file elsewhere"),
    errno.ENAMETOOLONG: ("its name is too long", "choose a shorter one"),
    errno.EACCES: (
        "nothing may be written in that folder",
        "name a file in another, or make that one writable",
    ),
    errno.EAGAIN: ("another window is writing in that folder", "do it again in a moment"),
}


class PlaceError(StoreError):
    """Raised where a file cannot be written; nothing was, and what was there is as it was."""


def check_place(file: Path) -> None:
    """Say beforehand why no file can be written at `file`. Raises PlaceError."""
    try:
        found = _found_wrong(Path(os.path.realpath(file)))
    except (OSError, ValueError) as error:
        raise unwritable(file, error) from error
    if found:
        raise _refusal(file, *found)


def put(file: Path, content: bytes, expected: bytes | None = None) -> None:
    """Put `content` at `file`, as `replacement.replace` does. Raises PlaceError, ChangedError."""
    check_place(file)
    try:
        replace(file, content, expected)
    except (OSError, ValueError) as error:
        raise unwritable(file, error) from error


def unwritable(file: Path, error: Exception) -> PlaceError:
    """What `error`, met while `file` was written, comes to in words."""
    code = getattr(error, "errno", None) or 0
    return _refusal(file, *_WORDS.get(code, (reason(error), "name another file")))


def _refusal(file: Path, why: str, mend: str) -> PlaceError:
    return PlaceError(str(file), f"it cannot be written ({why})", mend)


def _found_wrong(file: Path) -> tuple[str, str] | None:
    folder = file.parent
    try:
        mode = file.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        mode = None
    if mode is None and not folder.is_dir():
        if folder.exists() or folder.parent.is_file():
            return "what should be its folder is a file", "name a file in a folder"
        return "there is no such folder", "make it first, or name a file in another"
    if mode is not None and S_ISDIR(mode):
        return "it is a folder", "name a file, in it or elsewhere"
    if mode is not None and not S_ISREG(mode):
        return "it is a pipe or a device and not a file", "name another file"
    # What is there is moved over, and nothing else would ask whether it may be.
    if mode is not None and not mode & WRITABLE:
        return "it is marked read-only", "name another file, or make this one writable"
    return None if os.access(folder, os.W_OK | os.X_OK) else _WORDS[errno.EACCES]
