"""Offcuts offered for the pieces of a card, against what rows of rectangles give by hand."""

from dataclasses import replace

from tests.making.plans import FOG, GULL, HARBOUR, NET, size
from workbench.craft.card import INSIDE
from workbench.craft.paper import Offcut
from workbench.making.offcut_offers import (
    Lying,
    lying_of,
    new_offers,
    offers_for,
    with_offer,
)

PANEL = HARBOUR.pieces[0]


def lying(name: str, width: int, height: int, count: int = 1) -> Lying:
    return Lying(HARBOUR.paper(name), size(width, height), count)


def test_offcuts_on_hand_are_those_of_the_projects_papers() -> None:
    project = replace(HARBOUR, offcuts=(Offcut(NET, size(3, 4), 2),))
    assert lying_of(project) == (lying(NET, 3, 4, 2),)


def test_a_piece_is_offered_what_makes_all_of_it_with_least_left_over() -> None:
    wide, high = PANEL.size.width, PANEL.size.height
    just = Lying(HARBOUR.paper(GULL), PANEL.size, 2)
    twice = Lying(HARBOUR.paper(NET), replace(PANEL.size, width=wide * 2), 1)
    large = Lying(HARBOUR.paper(NET), replace(PANEL.size, width=wide * 2, height=high * 2), 1)
    too_few = Lying(HARBOUR.paper(GULL), PANEL.size, 1)
    small = lying(NET, 1, 1, 50)
    other_kind = Lying(HARBOUR.paper(FOG), PANEL.size, 9)
    found = offers_for(HARBOUR, PANEL, [large, too_few, small, other_kind, twice, just])
    assert [(offer.lying, offer.makes) for offer in found] == [
        (twice, 2),
        (just, 2),
        (large, 4),
        (too_few, 1),
    ]


def test_small_pieces_are_offered_and_cut_only_if_they_fit() -> None:
    front = HARBOUR.card.size
    found = list(new_offers(HARBOUR, [Lying(HARBOUR.paper(GULL), front, 3)]))
    assert [(offer.piece.name, offer.piece.on) for offer in found][-1] == ("inside panel", INSIDE)
    assert not any(offer.piece.needed for offer in found)
    changed = with_offer(HARBOUR, found[0])
    assert changed.pieces[-1] == found[0].piece
    (again, *_) = new_offers(changed, [Lying(HARBOUR.paper(GULL), front, 3)])
    assert again.piece.name == "strip 2"


def test_a_paper_the_project_has_not_comes_in_under_a_name_of_its_own() -> None:
    stranger = replace(HARBOUR.paper(GULL), stock="0123456789ab")
    offer = offers_for(HARBOUR, PANEL, [Lying(stranger, PANEL.size, 2)])[0]
    changed = with_offer(HARBOUR, offer)
    assert changed.papers[-1].name == f"{GULL} 2"
    assert changed.pieces[0].papers == (f"{GULL} 2", *PANEL.papers)
    assert with_offer(changed, offer) == changed
