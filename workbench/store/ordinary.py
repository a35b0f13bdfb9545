"""Files that may be read at all: ordinary ones, and no larger than such a file ever is."""

from pathlib import Path
from stat import S_ISDIR, S_ISREG

_MB = 1_000_000


def why_not(path: Path, most_mb: int) -> str | None:
    """What is wrong with reading the file at `path`, None where nothing is. Raises OSError.

    Reading a pipe or a device might never end, so what `path` is gets asked before it is opened.
    """
    found = path.stat()
    if S_ISDIR(found.st_mode):
        return "it is a folder"
    if not S_ISREG(found.st_mode):
        return "it is a pipe or a device and not a file"
    if found.st_size > most_mb * _MB:
        return f"it is larger than {most_mb} MB"
    return None
