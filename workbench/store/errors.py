"""The errors of the store, each told in one line that a maker can act on."""

import unicodedata

_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")
_LONGEST_SHOWN = 60
_LONGEST_SAID = 300


WAY_BACK = "put a backup back with `trimtally restore`, or move it away to start with an empty one"
"""What to do where the workshop's file is damaged."""


class StoreError(ValueError):
    """Raised when something on disk cannot be read or written. Its text is always one line.

    Attributes:
        where: the file, and the place in it.
        what: what is wrong.
        mend: what would be right, or what to do.
    """

    def __init__(self, where: str, what: str, mend: str) -> None:
        super().__init__(where, what, mend)
        self.where = where
        self.what = what
        self.mend = mend

    def __str__(self) -> str:
        what, mend = (cut_short(words, _LONGEST_SAID) for words in (self.what, self.mend))
        return visible(f"{self.where}: {what}; {mend}")


class ProjectFileError(StoreError):
    """Raised for a project file that cannot be read or written as it stands."""


class WorkshopError(StoreError):
    """Raised when the workshop's database cannot be used."""


def reason(error: Exception) -> str:
    """Why it failed in the system's own words, without the name of the file."""
    return getattr(error, "strerror", None) or str(error)


def visible(text: str) -> str:
    """`text` with every character that would not print on its line written as an escape."""
    return "".join(
        character.encode("unicode_escape").decode("ascii")
        if unicodedata.category(character) in _UNSEEN
        else character
        for character in text
    )


def shown(text: str) -> str:
    """`text` in quotes, made `visible`, and cut short when it is long."""
    return f'"{visible(cut_short(text, _LONGEST_SHOWN))}"'


def cut_short(text: str, longest: int) -> str:
    """`text`, at most so many characters long."""
    return text if len(text) <= longest else text[: longest - 1] + "…"
