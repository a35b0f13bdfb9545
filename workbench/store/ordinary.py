"""Files that may be read at all: ordinary ones, no larger than such a file ever is."""

import os
from os import stat_result
from pathlib import Path
from stat import S_ISDIR, S_ISREG

_MB = 1_000_000
# Only pipes and devices are slow to open, and those that were put there in the meantime.
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)


class OddFileError(ValueError):
    """Raised for what is no ordinary file, or too large; its text says what is wrong."""


def read_ordinary(path: Path, most_mb: int) -> bytes:
    """All that the file at `path` holds, of `most_mb` megabytes at most.

    Reading a pipe or a device might never end, so what `path` is gets asked before it is opened;
    and the system's own files, such as those of /proc, say that they hold nothing or much else
    than they give, so that nothing is read of the first and the second are refused.

    Raises:
        OddFileError: for anything but an ordinary file of that size.
        OSError: where it cannot be read.
    """
    _check(path.stat(), most_mb)
    with path.open("rb", opener=lambda name, flags: os.open(name, flags | _AT_ONCE)) as file:
        found = os.fstat(file.fileno())
        _check(found, most_mb)
        read = file.read(found.st_size + 1) if found.st_size else b""
    if len(read) != found.st_size:
        raise OddFileError("it holds more or less than it says, or is just being written")
    return read


def _check(found: stat_result, most_mb: int) -> None:
    if S_ISDIR(found.st_mode):
        raise OddFileError("it is a folder")
    if not S_ISREG(found.st_mode):
        raise OddFileError("it is a pipe or a device and not a file")
    if found.st_size > most_mb * _MB:
        raise OddFileError(f"it is larger than {most_mb} MB")
