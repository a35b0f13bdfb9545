"""Colours as the maker writes them: by word or by code; and a small palette to pick from."""

import re
from collections.abc import Mapping

from textual.color import Color, ColorParseError

from workbench.craft.errors import CraftError

AS_WRITTEN = "as written"
PALETTE: Mapping[str, tuple[str, ...]] = {
    f"{ink} on {ground}": (ink, ground)
    for ink, ground in (
        ("teal", "ivory"),
        ("coral", "seashell"),
        ("navy", "white"),
        ("goldenrod", "cornsilk"),
        ("sea green", "honeydew"),
        ("indian red", "linen"),
        ("orchid", "lavender"),
        ("steel blue", "alice blue"),
        ("sienna", "beige"),
        ("ivory", "dark slate grey"),
    )
}
_CODE = re.compile(r"#[0-9a-f]{6}")


def colour_of(word: str) -> str:
    """The code "#rrggbb" of a colour that is written as such, or by a name of CSS: "sea green".

    Raises:
        CraftError: for any other word.
    """
    plain = word.casefold().replace(" ", "")
    if _CODE.fullmatch(plain):
        return plain
    try:
        found = Color.parse(plain) if plain.isalpha() else None
    except ColorParseError:
        found = None
    if found is None or found.a < 1 or found.ansi is not None:
        raise CraftError(
            "colours",
            f'"{word}" is not a colour',
            "write a word such as teal, ivory or sea green, or a code as in #2f6f8f",
        )
    return found.hex.lower()


def colours_of(text: str) -> tuple[str, ...]:
    """The codes of several: "teal, sea green", "teal ivory", "#2f6f8f #f4efe4".

    Raises:
        CraftError: as `colour_of` does.
    """
    words = text.split(",") if "," in text else text.split()
    return tuple(colour_of(word.strip()) for word in words if word.strip())
