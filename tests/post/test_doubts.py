"""Doubts about a card as a letter, and the mends that end them."""

from dataclasses import replace

import pytest

from tests.post.letters import card, paper, size
from workbench.craft.card import Piece
from workbench.craft.envelope import Envelope, Posting
from workbench.craft.extra import Extra
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import CARDS
from workbench.measure.length import Length
from workbench.post import Desk
from workbench.post.doubts import postal_findings

A6 = size("105", "148", "mm")
BEAD = Extra("bead", "0.4 g", "2 mm")
TO_US = Posting(to="us")


def raised(name: str, mm: int) -> Piece:
    return Piece(name, size("40", "40", "mm"), ("birch card",), raised=Length.of(mm, "mm"))


CASES: dict[str, tuple[Project, str, str, str]] = {
    "a lump": (card(A6, extras=(BEAD,)), "uneven card", "2 mm higher", 'leave off "bead"'),
    "foam pads": (card(A6, raised("tag", 2)), "uneven card", "2.25 mm higher", "without foam pads"),
    "a tower": (
        card(
            A6, *(raised(f"storey {n}x", 2) for n in range(3)), posting=Posting(envelope="ISO B4")
        ),
        "thick card",
        "7.25 mm thick",
        "without foam pads",
    ),
    "many layers": (
        card(A6, Piece("leaf", size("40", "40", "mm"), ("birch card",), per_card=9)),
        "uneven card",
        "2.25 mm higher",
        'take away "leaf"',
    ),
    "a lump by one post": (
        card(CARDS["US A7"], extras=(BEAD,), posting=TO_US, unit="in"),
        "dearer post",
        "not as letter, sorted by machine (lumps 1, to 0",
        'leave off "bead"',
    ),
    "an envelope too small": (
        card(A6, posting=Posting(envelope="US A1")),
        "envelope",
        "is too small",
        'use "ISO C6"',
    ),
    "an envelope nobody knows": (
        card(A6, posting=Posting(envelope="linen")),
        "envelope",
        'no envelope is called "linen"',
        "use one of",
    ),
    "too thick for any": (
        card(size("240", "345", "mm"), extras=(replace(BEAD, thickness="10 mm"),)),
        "envelope",
        "no envelope of the tables",
        'leave off "bead"',
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_doubt_is_told_and_its_mend_ends_it(name: str) -> None:
    project, kind, wrong, mend = CASES[name]
    found = [each for each in postal_findings(project, Desk()) if each.kind == kind]
    assert len(found) == 1
    assert wrong in found[0].wrong
    assert mend in found[0].mend
    assert "\n" not in str(found[0])
    if found[0].mended:
        after = postal_findings(found[0].mended, Desk())
        assert kind not in [each.kind for each in after]


def test_a_card_that_fits_and_goes_cheaply_raises_no_doubt() -> None:
    assert postal_findings(card(A6), Desk()) == ()
    assert postal_findings(card(A6), Desk(to="de")) == ()


def test_a_post_that_nobody_chose_raises_no_doubt_of_its_own() -> None:
    own = Envelope("square", size("5.25", "5.25", "in"))
    square = replace(card(size("5", "5", "in"), unit="in"), envelopes=(own,))
    assert postal_findings(square, Desk()) == ()
    (doubt,) = postal_findings(square, Desk(to="us"))
    assert doubt.kind == "dearer post"
    assert "sorted by hand" in doubt.wrong
    assert "check with your post office" in doubt.why


def test_what_nobody_has_measured_is_no_doubt() -> None:
    unknown = replace(card(A6), papers=(paper("birch card", None, None),))
    assert postal_findings(unknown, Desk(to="de")) == ()
