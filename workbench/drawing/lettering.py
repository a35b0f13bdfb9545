"""The typeface of everything printed, and how much room its letters take."""

from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

FAMILY = "Source Sans Pro"
REGULAR, BOLD = 400, 600
_FILES = {
    REGULAR: "SourceSansPro-Regular.ttf",
    BOLD: "SourceSansPro-Semibold.ttf",
}
_UNITS = 1000
# They shape the letters beside them, in Persian and in emoji, and do nothing else.
_JOINERS = "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"


@cache
def font_folder() -> Path:
    """The folder of the typeface's files. Raises RuntimeError where its package is missing."""
    # Found, not imported: the package knows only where its files lie.
    spec = find_spec("font_source_sans_pro")
    if spec is None or spec.origin is None:
        raise RuntimeError("the typeface of the printed pages is not installed")
    return Path(spec.origin).parent / "files"


def literal(text: str) -> str:
    """`text` on one line as it can be shown: a visible sign for what steers or turns writing."""
    return "".join(map(_shown, text))


def text_width(text: str, size: float, weight: int = REGULAR) -> float:
    """How wide `text` runs in letters of `size`, in the unit of `size`."""
    return sum(_advance(letter, weight) for letter in text) * size


def shortened(text: str, size: float, room: float, weight: int = REGULAR) -> str:
    """As much of `text` as there is room for, "…" in place of what is left out."""
    if text_width(text, size, weight) <= room:
        return text
    while text and text_width(f"{text}…", size, weight) > room:
        text = text[:-1].rstrip()
    return f"{text}…" if text else ""


def _shown(letter: str) -> str:
    if letter.isprintable() or letter in _JOINERS:
        return letter
    return " " if letter.isspace() else "\N{REPLACEMENT CHARACTER}"


@cache
def _advance(letter: str, weight: int) -> float:
    return float(_font(weight).getlength(letter)) / _UNITS


@cache
def _font(weight: int) -> Any:
    from PIL import ImageFont

    return ImageFont.truetype(str(font_folder() / _FILES[weight]), _UNITS)
