"""Colours as the maker writes them: by word or by code."""

import re

from workbench.craft.errors import CraftError

_CODE = re.compile(r"#[0-9a-f]{6}")
# What papers are called beside the names of CSS. Common practice, no source; the codes are ours.
_OF_PAPERS = {
    "apricot": "#f6c08f",
    "blush": "#f1c9c6",
    "burgundy": "#7a1f35",
    "charcoal": "#3b4046",
    "copper": "#b06a3b",
    "cream": "#f6eed9",
    "emerald": "#1f8a5b",
    "kraft": "#b98d5e",
    "lilac": "#c5a9d6",
    "mint": "#b9e2cd",
    "mustard": "#d2a12c",
    "ochre": "#c4872f",
    "peach": "#f6c5ac",
    "rose": "#d98a97",
    "rust": "#a4502f",
    "sage": "#a3b18a",
    "sand": "#dcc9a3",
    "taupe": "#8c7d70",
}


def colour_of(word: str) -> str:
    """The code "#rrggbb" of a colour that is written as such, or by a word: "sea green", "cream".

    Words are the names of CSS, and what papers are called besides.

    Raises:
        CraftError: for any other word.
    """
    from PIL.ImageColor import colormap

    plain = word.casefold().replace(" ", "")
    code = plain if _CODE.fullmatch(plain) else colormap.get(plain) or _OF_PAPERS.get(plain)
    if not isinstance(code, str):
        raise CraftError(
            "colours",
            f'"{word}" is not a colour',
            "write a word such as teal, ivory or sea green, or a code as in #2f6f8f",
        )
    return code


def colours_of(text: str) -> tuple[str, ...]:
    """The codes of several: "teal, sea green", "teal ivory", "#2f6f8f #f4efe4".

    Raises:
        CraftError: as `colour_of` does.
    """
    words = text.split(",") if "," in text else text.split()
    return tuple(colour_of(word.strip()) for word in words if word.strip())
