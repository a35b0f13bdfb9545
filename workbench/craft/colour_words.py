"""Colours as the maker writes them: by word or by code."""

import re

from workbench.craft.errors import CraftError

_CODE = re.compile(r"#[0-9a-f]{6}")


def colour_of(word: str) -> str:
    """The code "#rrggbb" of a colour that is written as such, or by a name of CSS: "sea green".

    Raises:
        CraftError: for any other word.
    """
    from PIL.ImageColor import colormap

    plain = word.casefold().replace(" ", "")
    code = plain if _CODE.fullmatch(plain) else colormap.get(plain)
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
