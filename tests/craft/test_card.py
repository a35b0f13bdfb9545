"""A card and its pieces refuse what could not be made, and say what would be right."""

from dataclasses import FrozenInstanceError

import pytest

from tests.craft.projects import Refusal, card, check_refused, mm, piece, size
from workbench.craft.card import BASE, FRONT, INSIDE, Card, Fold, Rounding
from workbench.craft.paper import Size

REFUSED: dict[str, Refusal] = {
    "a card of no width": (
        lambda: Card(size(0, 140), "top", "fern", 1),
        "card, size",
        "a side is nothing or less",
    ),
    "no card at all": (lambda: card(count=0), "card, count", "0 cards"),
    "too many cards": (lambda: card(count=100_001), "card, count", "100001 cards"),
    "a piece called as the base": (lambda: piece(BASE), f'piece "{BASE}"', "taken"),
    "a piece called inside": (lambda: piece(INSIDE), f'piece "{INSIDE}"', "taken"),
    "a piece called card": (lambda: piece(FRONT), f'piece "{FRONT}"', "taken"),
    "a piece from nothing": (lambda: piece(papers=()), 'piece "panel", from', "no paper"),
    "a piece twice from one paper": (
        lambda: piece(papers=("fern", "fern")),
        'piece "panel", from',
        "named twice",
    ),
    "a piece no times": (lambda: piece(per_card=0), 'piece "panel", per_card', "0 on each"),
    "a piece too often": (lambda: piece(per_card=51), 'piece "panel", per_card', "51 on each"),
    "no corner rounded": (
        lambda: piece(rounding=Rounding((), mm(5))),
        'piece "panel", round',
        "corners are missing",
    ),
    "a corner rounded twice": (
        lambda: piece(rounding=Rounding(("top left", "top left"), mm(5))),
        'piece "panel", round',
        "named twice",
    ),
    "a radius of nothing": (
        lambda: piece(rounding=Rounding(("top left",), mm(0))),
        'piece "panel", round',
        "radius is nothing",
    ),
    "a radius beyond the middle": (
        lambda: piece(rounding=Rounding(("top left",), mm(46))),
        'piece "panel", round',
        "more than half the piece's shorter side",
    ),
}


@pytest.mark.parametrize("refusal", REFUSED.values(), ids=REFUSED)
def test_refused_with_place_and_reason(refusal: Refusal) -> None:
    check_refused(refusal)


def test_a_card_is_frozen() -> None:
    with pytest.raises(FrozenInstanceError):
        card().count = 5  # type: ignore[misc]


@pytest.mark.parametrize(
    ("fold", "unfolded"),
    [("top", size(100, 280)), ("side", size(200, 140)), ("none", size(100, 140))],
)
def test_a_base_is_cut_unfolded(fold: Fold, unfolded: Size) -> None:
    assert card(fold).base_size == unfolded
