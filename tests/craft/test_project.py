"""A project refuses parts that do not fit one another, and finds them by name."""

from collections.abc import Callable

import pytest

from tests.craft.projects import Refusal, card, check_refused, mm, paper, piece, project, size
from workbench.craft.card import INSIDE, Card
from workbench.craft.envelope import Envelope
from workbench.craft.extra import Extra
from workbench.craft.own_step import MOST_STEPS, OwnStep
from workbench.craft.paper import Offcut, Strip
from workbench.craft.project import (
    MOST_ENVELOPES,
    MOST_EXTRAS,
    MOST_PAPERS,
    MOST_PIECES,
    fits,
    layer_names,
)

REFUSED: dict[str, Refusal] = {
    "a project without a title": (lambda: project(title=""), "title", "blank"),
    "two papers of one name": (
        lambda: project(papers=(paper(), paper())),
        "papers",
        '"fern" stands there twice',
    ),
    "two pieces of one name": (
        lambda: project(piece(), piece()),
        "pieces",
        '"panel" stands there twice',
    ),
    "a piece called as another's copy": (
        lambda: project(piece(per_card=2), piece("panel 2")),
        "pieces",
        '"panel 2" stands there twice',
    ),
    "a base from no known paper": (
        lambda: project(papers=()),
        "card, paper",
        'no paper is called "fern"',
    ),
    "a piece from no known paper": (
        lambda: project(piece(papers=("fir",))),
        'piece "panel", from',
        'no paper is called "fir"',
    ),
    "an offcut of no known paper": (
        lambda: project(offcuts=(Offcut("fir", size(5, 5)),)),
        "offcuts[1], paper",
        'no paper is called "fir"',
    ),
    "a piece on nothing": (
        lambda: project(piece(on="mat")),
        'piece "panel", on',
        '"mat" is not the card',
    ),
    "a piece inside a flat card": (
        lambda: project(piece(on=INSIDE), card=card("none")),
        'piece "panel", on',
        "no inside",
    ),
    "a piece on itself": (
        lambda: project(piece(on="panel")),
        'piece "panel", on',
        '"panel" is not the card',
    ),
    "a piece on one above it": (
        lambda: project(piece(on="mat"), piece("mat")),
        'piece "panel", on',
        '"mat" is not the card',
    ),
    "a piece larger than its paper": (
        lambda: project(piece(size=size(201, 300))),
        'piece "panel", size',
        "larger than a sheet",
    ),
    "a base larger than its paper": (
        lambda: project(card=Card(size(160, 140), "side", "fern", 1)),
        "card, size",
        "larger than a sheet",
    ),
    "a piece that fits only against the run": (
        lambda: project(piece(size=size(300, 200)), papers=(paper(run="along"),)),
        'piece "panel", size',
        "larger than a sheet",
    ),
}


@pytest.mark.parametrize("refusal", REFUSED.values(), ids=REFUSED)
def test_refused_with_place_and_reason(refusal: Refusal) -> None:
    check_refused(refusal)


@pytest.mark.parametrize(
    ("things", "most", "made"),
    [
        ("pieces", MOST_PIECES, lambda n: piece(f"piece {n}")),
        ("papers", MOST_PAPERS, lambda n: paper("fern" if n == 0 else f"paper {n}")),
        ("extras", MOST_EXTRAS, lambda n: Extra(f"bead {n}", "1 g")),
        ("envelopes", MOST_ENVELOPES, lambda n: Envelope(f"own {n}", size(110, 220))),
        ("steps", MOST_STEPS, lambda n: OwnStep(f"step {n}")),
    ],
)
def test_a_project_holds_no_more_than_can_be_looked_over(
    things: str, most: int, made: Callable[[int], object]
) -> None:
    every = tuple(map(made, range(most + 1)))
    assert len(getattr(project(**{things: every[:-1]}), things)) == most
    check_refused((lambda: project(**{things: every}), things, f"there are {most + 1}"))


def test_layers_number_the_copies_of_a_piece() -> None:
    assert layer_names(piece(per_card=3)) == ("panel", "panel 2", "panel 3")
    layers = project(piece(), piece("tab", size=size(9, 9), per_card=2)).layers()
    assert [layer.name for layer in layers] == ["panel", "tab", "tab 2"]


def test_papers_and_pieces_are_found_by_name() -> None:
    asked = project(piece())
    assert asked.paper("fern").name == "fern"
    assert asked.mixed(asked.piece("panel")) is False
    with pytest.raises(KeyError):
        asked.piece("mat")


def test_what_fits_is_what_fits_beside_the_strip() -> None:
    striped = paper(strip=Strip("bottom", mm(10)))
    assert fits(striped, size(200, 290))
    assert not fits(striped, size(200, 291))
    assert fits(striped, size(290, 200))
