"""What a check finds in a project."""

from dataclasses import dataclass
from typing import Literal

from workbench.craft.project import Project

FindingKind = Literal[
    "sticks out",
    "hidden",
    "also on",
    "thin border",
    "uneven border",
    "narrow",
    "between marks",
    "wrong way",
    "too large",
    "uneven card",
    "thick card",
    "envelope",
    "dearer post",
    "bare card",
    "large offcut",
    "rules at odds",
    "idle repeat",
]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing in a project that is unlikely to be meant, in the words shown to the maker.

    Attributes:
        kind: which check found it.
        piece: the name of the piece it is about, or of the card base.
        wrong: what is wrong.
        why: why it matters.
        mend: what would mend it.
        mended: the project after that, None where the maker must choose.
        about: what it is about where that is no part of the card; `piece` is then the base.
    """

    kind: FindingKind
    piece: str
    wrong: str
    why: str
    mend: str
    mended: Project | None
    about: str | None = None

    def __str__(self) -> str:
        return f"{self.about or self.piece}: {self.wrong}. {self.why}."
