"""One doubt about a project."""

from dataclasses import dataclass
from typing import Literal

from workbench.craft.project import Project

FindingKind = Literal[
    "sticks out",
    "hidden",
    "thin border",
    "uneven border",
    "narrow",
    "between marks",
    "wrong way",
    "too large",
    "uneven card",
    "thick card",
    "bare card",
    "large offcut",
    "rules at odds",
]


@dataclass(frozen=True, slots=True)
class Finding:
    """One doubt about `piece` (or the card base): what is `wrong`, `why` it matters, its mend.

    `mended` is the project after the mend that `mend` tells, None where the maker must choose.
    `about` names what is in doubt where that is no part of the card; it is told with the base.
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
