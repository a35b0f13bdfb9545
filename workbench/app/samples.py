"""The sample projects that come with Trimtally."""

import json
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path

import workbench

WALK = "one_card_from_scraps.toml"
"""The file of the smallest sample, which the walk goes through."""


@dataclass(frozen=True, slots=True)
class Sample:
    """`about` is the first sentence of the note that its file begins with."""

    path: Path
    title: str
    about: str


def samples() -> list[Sample]:
    return [_sample(path) for path in sorted(_folder().glob("*.toml"))]


def _folder() -> Path:
    """In the installed package, or beside it in a clone."""
    package = Path(workbench.__file__).parent
    inside = package / "sample_projects"
    return inside if inside.is_dir() else package.parent / "sample_projects"


def _sample(path: Path) -> Sample:
    text = path.read_text(encoding="utf-8")
    note = takewhile(lambda line: line.startswith("# "), text.splitlines())
    about = " ".join(line.removeprefix("# ") for line in note).split(". ")[0].rstrip(".")
    # The start page shows them all at once: no more is read of each than it needs, and a title in
    # double quotes is written alike in TOML and JSON, whose reader is there already.
    title = next(line for line in text.splitlines() if line.startswith("title ="))
    return Sample(path, json.loads(title.partition("=")[2]), about)
