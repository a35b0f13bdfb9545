"""Which files may be read at all: ordinary ones, no larger than such a file ever is."""

from pathlib import Path
from stat import S_ISDIR, S_ISREG

_MB = 1_000_000


def why_not(path: Path, most_mb: int) -> str | None:
    """Why the file at `path` is not to be read, None where nothing speaks against it.

    Reading a pipe or a device might never end, so this is asked before anything is opened.

    Args:
        path: the file.
        most_mb: the largest size to read, in millions of bytes.

    Raises:
        OSError: when there is no such file, or it cannot be looked at.
    """
    found = path.stat()
    if S_ISDIR(found.st_mode):
        return "it is a folder"
    if not S_ISREG(found.st_mode):
        return "it is a pipe or a device and not a file"
    if found.st_size > most_mb * _MB:
        return f"it is larger than {most_mb} MB"
    return None
