"""A small project and its parts, to be changed in the tests of the craft."""

from collections.abc import Callable

import pytest

from workbench.craft.card import Card, Fold, Piece
from workbench.craft.errors import CraftError
from workbench.craft.paper import Paper, Run, Size
from workbench.craft.project import Project
from workbench.measure.length import Length

Refusal = tuple[Callable[[], object], str, str]
"""What is refused, the place its error names, and words of what is wrong."""


def mm(number: int) -> Length:
    return Length.of(number, "mm")


def size(width: int, height: int) -> Size:
    return Size(mm(width), mm(height))


def paper(name: str = "fern", run: Run = "none", **changes: object) -> Paper:
    fields: dict[str, object] = {"kind": "patterned", "size": size(200, 300), "run": run}
    return Paper(name, **(fields | changes))  # type: ignore[arg-type]


def piece(name: str = "panel", **changes: object) -> Piece:
    fields: dict[str, object] = {"size": size(90, 130), "papers": ("fern",)}
    return Piece(name, **(fields | changes))  # type: ignore[arg-type]


def card(fold: Fold = "side", count: int = 4) -> Card:
    return Card(size(100, 140), fold, "fern", count)


def project(*pieces: Piece, **changes: object) -> Project:
    fields: dict[str, object] = {
        "title": "Ferns",
        "units": "mm",
        "card": card(),
        "papers": (paper(),),
        "pieces": pieces,
    }
    return Project(**(fields | changes))  # type: ignore[arg-type]


def check_refused(refusal: Refusal) -> None:
    make, place, wrong = refusal
    with pytest.raises(CraftError) as caught:
        make()
    error = caught.value
    assert error.place == place
    assert wrong in error.wrong
    assert error.right
    assert str(error) == f"{place}: {error.wrong}; {error.right}"
