"""Files that may be read at all: ordinary ones, no larger than such a file ever is."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from os import stat_result
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import BinaryIO

_MB = 1_000_000
# Only pipes and devices are slow to open, and those that were put there in the meantime.
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)
_AS_IT_IS = getattr(os, "O_BINARY", 0)  # Windows


class OddFileError(ValueError):
    """Raised for what is no ordinary file, or too large; its text says what is wrong."""


@contextmanager
def opened(path: Path, most_mb: int) -> Iterator[BinaryIO]:
    """Open the file at `path`, which holds `most_mb` megabytes at most, for reading.

    Reading a pipe or a device might never end, so what `path` is gets asked before it is opened.

    Raises:
        OddFileError: for anything but an ordinary file of that size.
        OSError: where it cannot be opened.
    """
    _check(path.stat(), most_mb)
    with os.fdopen(os.open(path, os.O_RDONLY | _AT_ONCE | _AS_IT_IS), "rb") as file:
        _check(os.fstat(file.fileno()), most_mb)
        yield file


def read_ordinary(path: Path, most_mb: int) -> bytes:
    """Read all that the file at `path` holds; errors are those of `opened`.

    The system's own files, such as those of /proc, say that they hold nothing, or something else
    than they give: of the first nothing is read, and the second are refused.
    """
    with opened(path, most_mb) as file:
        size = os.fstat(file.fileno()).st_size
        content = file.read(size + 1) if size else b""
    if len(content) != size:
        raise OddFileError("it holds more or less than it says, or is just being written")
    return content


def _check(found: stat_result, most_mb: int) -> None:
    if S_ISDIR(found.st_mode):
        raise OddFileError("it is a folder")
    if not S_ISREG(found.st_mode):
        raise OddFileError("it is a pipe or a device and not a file")
    if found.st_size > most_mb * _MB:
        raise OddFileError(f"it is larger than {most_mb} MB")
