"""The colours of a paper, taken from a photograph or scan of it; the picture is not kept."""

import subprocess
import sys
from functools import lru_cache
from pathlib import Path

from workbench.store.errors import StoreError, visible
from workbench.store.ordinary import OddFileError, opened
from workbench.store.picture_decoder import MOST_PIXELS, TOO_MANY_PIXELS

SUFFIXES = (".jpg", ".jpeg", ".png", ".webp", ".gif", ".bmp", ".tif", ".tiff")
MOST_COLOURS = 3
MOST_MB = 200
_SECONDS = 10
_DECODER = (sys.executable, "-P", "-m", "workbench.store.picture_decoder")
_UNREADABLE = "it cannot be read as a picture"


def picture_colours(path: Path, most: int = MOST_COLOURS) -> tuple[str, ...]:
    """Take a paper's colours from the picture at `path`.

    It is decoded in a process of its own, so that no damaged picture harms this one, writes on
    its terminal, or takes all of its memory or time.

    Returns:
        Up to `most` colours as "#rrggbb"; what covers most of the picture, the ground, is last.

    Raises:
        StoreError: where it is no ordinary file, no picture, or too large a one.
    """
    try:
        found = path.stat()
        return _colours(path, (found.st_mtime_ns, found.st_size), most)
    except OddFileError as error:
        raise _refusal(path, str(error)) from error
    except OSError as error:
        raise _refusal(path, _UNREADABLE) from error


@lru_cache(maxsize=8)
def _colours(path: Path, stamp: tuple[int, int], most: int) -> tuple[str, ...]:
    """The same; `stamp` changes with the picture, as a form asks again with every key."""
    del stamp
    with opened(path, MOST_MB) as file:
        try:
            decoded = subprocess.run(
                [*_DECODER, str(most)],
                stdin=file,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                timeout=_SECONDS,
                check=False,
            )
        except subprocess.TimeoutExpired as error:
            raise _refusal(path, f"it takes longer than {_SECONDS} s to decode") from error
    if decoded.returncode == TOO_MANY_PIXELS:
        raise _refusal(path, f"it has more than {MOST_PIXELS // 1_000_000} million pixels")
    if decoded.returncode:
        raise _refusal(path, _UNREADABLE)
    return tuple(decoded.stdout.decode("ascii").split())


def _refusal(path: Path, wrong: str) -> StoreError:
    right = "choose a photograph or scan, such as a .jpg or .png file"
    return StoreError(visible(path.name), wrong, right)
