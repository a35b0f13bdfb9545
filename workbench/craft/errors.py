"""What can be wrong with a noun of the craft, said so that a maker can mend it."""

import unicodedata
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: where it is, what is wrong, and what would be right."""

    place: str
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.place}: {self.wrong}; {self.right}"


class CraftError(ValueError):
    """Raised when a noun cannot be what it is asked to be; carries its one `fault`."""

    def __init__(self, place: str, wrong: str, right: str) -> None:
        self.fault = Fault(place, wrong, right)
        super().__init__(str(self.fault))


LONGEST_NAME = 60


def checked_name(name: str, place: str, what: str = "name") -> str:
    """Return `name`, the `what` of something, refusing what could not be shown on a label."""
    if not name.strip() or name != name.strip():
        raise CraftError(
            place,
            f"the {what} {name!r} is blank or has blanks around it",
            f"let the {what} start and end with a visible character",
        )
    if len(name) > LONGEST_NAME:
        raise CraftError(
            place, f"the {what} has {len(name)} characters", f"use at most {LONGEST_NAME}"
        )
    for at, character in enumerate(name, 1):
        if unicodedata.category(character) in ("Cc", "Cf", "Cs", "Zl", "Zp"):
            raise CraftError(
                place,
                f"the {what} {name!r} holds {_called(character)} as character {at}, which cannot "
                "be printed",
                "take it out, as letters, digits, blanks and ordinary punctuation are enough",
            )
    return name


def _called(character: str) -> str:
    """ "U+200D (zero width joiner)"."""
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "").lower()
    return f"{code} ({name})" if name else code
