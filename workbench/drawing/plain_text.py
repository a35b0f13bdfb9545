"""Text and drawings for terminals that know only ASCII, cell for cell as wide as before."""

import codecs
import os
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

HANDLER = "trimtally-plain"
"""The name that `errors` of a stream takes, to write what it cannot encode in ASCII."""

_ALIKE: Mapping[str, str] = {
    "×": "x",
    "…": "~",
    "–": "-",
    "—": "-",
    "−": "-",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "″": '"',
    "′": "'",
    "‹": "<",
    "›": ">",
    "←": "<",
    "→": ">",
    "↑": "^",
    "↓": "v",
    "↕": "|",
    "✢": "+",
    "≈": "~",
    "≤": "<",
    "≥": ">",
    "·": ".",
    "•": "*",
    "●": "*",
    "○": "o",
    "◦": "o",
    "□": "o",
    "░": ":",
    "▒": "%",
    "▔": "-",
    "▁": "_",
    "▏": "|",
    "▕": "|",
    "▟": "/",
    "▛": "/",
    "▙": "\\",
    "▜": "\\",
    "½": "/",
    "¼": "/",
    "¾": "/",
}
_DOUBLE = 2


@lru_cache(maxsize=2048)
def _plain(character: str) -> str:
    """One ASCII character for each cell of `character`."""
    if character in _ALIKE:
        return _ALIKE[character]
    name = unicodedata.name(character, "")
    if name.startswith("BOX DRAWINGS"):
        across, down = "HORIZONTAL" in name, "VERTICAL" in name
        return "-" if across and not down else "|" if down and not across else "+"
    if name.startswith("BLOCK") or "BLOCK" in name:
        return "#"
    base = unicodedata.normalize("NFKD", character)[:1]
    if base.isascii() and base:
        return base
    if unicodedata.category(character).startswith("S"):
        return "*"
    wide = unicodedata.east_asian_width(character) in "FW"
    return "?" * (_DOUBLE if wide else 0 if unicodedata.combining(character) else 1)


def in_ascii(text: str) -> str:
    """`text` in ASCII, each character as wide as before: "9 x 6 in" for "9 × 6 in"."""
    return (
        text
        if text.isascii()
        else "".join(each if each < "\x80" else _plain(each) for each in text)
    )


def ascii_locale(environment: Mapping[str, str] = os.environ) -> bool:
    """Whether the maker's locale says that the terminal knows only ASCII.

    Python itself sets LC_CTYPE to "C.UTF-8" where the locale is C (PEP 538), so that this says
    nothing beside a LANG of C.
    """
    plain = ("C", "POSIX")
    if whole := environment.get("LC_ALL"):
        return whole in plain
    letters = environment.get("LC_CTYPE", "")
    return letters in plain or (
        environment.get("LANG") in plain and letters in ("", "C.UTF-8", "C.utf8")
    )


def _handle(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return in_ascii(error.object[error.start : error.end]), error.end


codecs.register_error(HANDLER, _handle)
