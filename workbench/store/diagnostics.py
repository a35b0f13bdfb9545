"""What is left of a fault of the program, and what it tells of itself when it is asked to.

Neither holds anything of the maker's files: of an error only its kind is kept, as its message may
quote a name or a line of them, and of a path only its end.
"""

import logging
import os
import platform
import sys
import traceback
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from workbench.store.database import Workshop
from workbench.store.errors import cut_short, visible

DEBUG = "TRIMTALLY_DEBUG"
LOG_FILE = "debug.log"
_PACKAGES = (
    "trimtally",
    "textual",
    "rich",
    "highspy",
    "ortools",
    "numpy",
    "msgspec",
    "pint",
    "pillow",
)
_FOLDERS_SHOWN = 3
_LONGEST_FAULT = 100


def write_crash_report(error: BaseException) -> Path | None:
    """Write what is needed to mend the fault behind `error` into the workshop's folder.

    Args:
        error: what was raised and nobody expected.

    Returns:
        The file that was written; None where none could be.
    """
    with suppress(OSError):
        folder = Workshop.open().folder
        folder.mkdir(parents=True, exist_ok=True)
        now = datetime.now(UTC)
        path = folder / f"crash-{now:%Y%m%d-%H%M%S-%f}.txt"
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            file.write("\n".join((f"{now:%Y-%m-%d %H:%M:%S} UTC", *_report(error), "")))
        return path
    return None


def fault_in_words(error: BaseException) -> str:
    """One line for the maker, after a crash report of `error` is written: where that is."""
    path = None
    with suppress(Exception):  # where memory has run out, as it may again
        path = write_crash_report(error)
    kept = f"a report for its makers is in {path}" if path else "no report could be written"
    fault = cut_short(f"{type(error).__name__}: {error}", _LONGEST_FAULT)
    return visible(f"trimtally: this is a fault of the program, not yours ({fault}); {kept}")


def log_if_asked(*, to_file: bool) -> None:
    """Log what the program does where $TRIMTALLY_DEBUG is 1.

    Args:
        to_file: into a file in the workshop's folder, as the app does; else to standard error.
    """
    if os.environ.get(DEBUG) != "1":
        return
    handler: logging.Handler = logging.StreamHandler()
    if to_file:
        folder = Workshop.open().folder
        try:
            folder.mkdir(parents=True, exist_ok=True)
            handler = logging.FileHandler(folder / LOG_FILE, encoding="utf-8")
        except OSError:
            return
    handler.setFormatter(logging.Formatter("%(asctime)s %(name)s: %(message)s"))
    logger = logging.getLogger("workbench")
    logger.addHandler(handler)
    logger.setLevel(logging.DEBUG)
    logger.propagate = False
    logger.debug("Trimtally %s", ", ".join(_versions()))


def _report(error: BaseException) -> Iterator[str]:
    yield from _versions()
    yield ""
    told: BaseException | None = error
    seen: set[int] = set()
    while told and id(told) not in seen:
        seen.add(id(told))
        kind = type(told)
        yield f"{kind.__module__}.{kind.__qualname__}"
        for frame in traceback.extract_tb(told.__traceback__):
            place = "/".join(Path(frame.filename).parts[-_FOLDERS_SHOWN:])
            yield f"  {place}:{frame.lineno} in {frame.name}"
            yield f"    {frame.line}"
        told = told.__cause__ or told.__context__
        if told:
            yield "after"


def _versions() -> Iterator[str]:
    for package in _PACKAGES:
        with suppress(PackageNotFoundError):
            yield f"{package} {version(package)}"
    yield f"Python {sys.version.split()[0]}, {platform.platform()}"
