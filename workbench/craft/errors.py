"""The error of the craft's classes, which tells a maker where, what is wrong and what is right."""

import unicodedata
from collections.abc import Iterable

LONGEST_NAME = 60


class CraftError(ValueError):
    """Raised by a dataclass of the craft that is given what it cannot hold.

    Attributes:
        place: where it is wrong, as a maker calls it: `paper "kite stripe", size`.
        wrong: what is wrong.
        right: what would be right.
    """

    def __init__(self, place: str, wrong: str, right: str) -> None:
        super().__init__(f"{place}: {wrong}; {right}")
        self.place = place
        self.wrong = wrong
        self.right = right


def checked_name(name: str, place: str, what: str = "name", longest: int = LONGEST_NAME) -> str:
    """Check that `name` could be printed on a label.

    Args:
        name: the text to check.
        place: where it stands, for the error.
        what: what the error calls it, "name" or "title".
        longest: how many characters it may have.

    Returns:
        `name` itself.

    Raises:
        CraftError: where it is blank, begins or ends with a blank, is longer than `longest`
            characters, or holds one that cannot be printed.
    """
    if not name.strip():
        raise CraftError(place, f"the {what} is blank", f"write a {what}")
    if name != name.strip():
        raise CraftError(
            place,
            f"the {what} {name!r} has blanks around it",
            f"let the {what} start and end with a visible character",
        )
    if len(name) > longest:
        raise CraftError(place, f"the {what} has {len(name)} characters", f"use at most {longest}")
    for at, character in enumerate(name, 1):
        if unicodedata.category(character) in ("Cc", "Cf", "Cs", "Zl", "Zp"):
            raise CraftError(
                place,
                f"the {what} {name!r} holds {_called(character)} as character {at}, which cannot "
                "be printed",
                "take it out, as letters, digits, blanks and ordinary punctuation are enough",
            )
    return name


def nearest(word: str, allowed: Iterable[str], most: int = 8) -> str:
    """What would be right in place of `word`.

    Args:
        word: what was written.
        allowed: all that may be.
        most: how many of them are told at most.

    Returns:
        The most similar, where one is, and of a few all that may be.
    """
    from difflib import get_close_matches

    names = list(allowed)
    folded = {name.casefold(): name for name in names}
    close = get_close_matches(word.casefold(), folded, n=1)
    few = ", ".join(f'"{name}"' for name in names[:most])
    if close:
        every = f" It can be {few}" if len(names) <= most else ""
        return f'did you mean "{folded[close[0]]}"?{every}'
    return f"use one of {few}" + (f" and {len(names) - most} more" if len(names) > most else "")


def _called(character: str) -> str:
    """The code and the name of a character: `U+200D (zero width joiner)`."""
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "").lower()
    return f"{code} ({name})" if name else code
