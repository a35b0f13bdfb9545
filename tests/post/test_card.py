"""Envelopes for cards, and what would make a card cheaper to post."""

from dataclasses import replace

import pytest

from tests.post.letters import card, paper, size
from workbench.craft.card import Piece
from workbench.craft.envelope import UNENVELOPED, Envelope, Posting
from workbench.craft.errors import CraftError
from workbench.craft.extra import Extra
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import CARDS
from workbench.drawing.two_units import TwoUnits
from workbench.measure.length import Length, Unit
from workbench.post import Desk, card_by_post, letter_lines, suggestions
from workbench.post.envelopes import CLEARANCE, fit
from workbench.post.figures import card_figures
from workbench.post.rule_files import built_in_envelopes
from workbench.post.words import envelope_words

DESK = Desk()
ENVELOPES = {each.name: each for each in built_in_envelopes()}
A6 = size("105", "148", "mm")


def class_of(project: Project, to: str | None = None) -> str:
    judgement = card_by_post(project, DESK, to).judgement
    assert judgement
    assert judgement.sure
    return judgement.sure.postal_class.name


def told(project: Project, to: str) -> dict[str, str]:
    """Every suggestion and the class it leads to."""
    found = suggestions(project, DESK, card_by_post(project, DESK, to))
    return {each.words: each.goes_as for each in found}


# The cards that each envelope is sold for, of the trade (A9 from memory), and A6 in C6 (ISO 216,
# ISO 269).
@pytest.mark.parametrize(
    ("name", "envelope"),
    [
        *((name, name) for name in CARDS if name.startswith("US")),
        ("A6", "ISO C6"),
        ("A5", "ISO C5"),
        ("A4", "ISO C4"),
        ("A7", "ISO C7"),
        ("DL", "ISO DL"),
    ],
)
def test_cards_go_into_the_envelopes_they_are_sold_with(name: str, envelope: str) -> None:
    figures = card_figures(card(CARDS[name]))
    assert fit(figures, ENVELOPES[envelope], CLEARANCE).fits
    assert fit(figures, ENVELOPES[envelope], CLEARANCE).takes >= CLEARANCE


def test_clearance_is_a_setting() -> None:
    # A2: 4 3/8 - 4 1/4 = 1/8 in, which a wish for 1/4 in each way would refuse.
    figures = card_figures(card(CARDS["US A2"]))
    assert not fit(figures, ENVELOPES["US A2"], Length.of("1/4", "in")).fits
    roomy = card(CARDS["US A2"], posting=Posting(clearance=Length.of("1/4", "in")))
    found = card_by_post(roomy, DESK)
    assert "US A2" not in [each.envelope.name for each in found.fits]


def test_the_snuggest_envelope_is_taken_without_a_word() -> None:
    found = card_by_post(card(A6), DESK)
    assert found.chosen
    for table in ("ISO", "US"):
        fits = [each.envelope for each in found.fits if each.envelope.name.startswith(table)]
        areas = [envelope.long.mm * envelope.short.mm for envelope in fits]
        assert areas == sorted(areas)
    assert found.chosen == found.fits[0]
    assert found.chosen.envelope.name == "ISO C6"


@pytest.mark.parametrize(
    ("sides", "unit", "chosen", "words"),
    [
        # Counted out of the two tables: US A6 (120.65 x 165.1 mm) is snuggest, B6 the first of ISO.
        (("116", "160", "mm"), "mm", "ISO B6", "ISO B6, 125 × 176 mm"),
        # C6 (114 x 162 mm) is snuggest, A6 the first of those sold in inches.
        (("4.375", "5.625", "in"), "in", "US A6", "US A6, 4 3/4 × 6 1/2 in"),
        # None of the US takes it.
        (("6.125", "8.75", "in"), "in", "ISO C5", "ISO C5, ≈ 6 3/8 × 9 in"),
        # 107.95 mm is what US No. 6 3/4 would need: DL is 110 mm, C6/C5 114 mm.
        (("106", "216", "mm"), "mm", "ISO DL", "ISO DL, 110 × 220 mm"),
    ],
)
def test_envelopes_sold_by_the_projects_own_unit_come_first(
    sides: tuple[str, str, Unit], unit: Unit, chosen: str, words: str
) -> None:
    found = card_by_post(card(size(*sides), unit=unit), DESK)
    assert found.chosen
    assert found.chosen.envelope.name == chosen
    assert envelope_words(found.chosen.envelope, unit) == words
    told = [each.envelope.name.split()[0] for each in found.fits]
    assert told == sorted(told, reverse=unit == "in")


def test_an_envelope_of_the_makers_own_is_as_good_as_any_in_either_unit() -> None:
    own = Envelope("shoebox", size("4.25", "6", "in"))  # 107.95 x 152.4 mm
    found = card_by_post(replace(card(size("104", "148", "mm")), envelopes=(own,)), DESK)
    assert found.chosen
    assert found.chosen.envelope == own


def test_one_envelope_is_suggested_for_each_cheaper_class() -> None:
    small = card(size("74", "105", "mm"))  # C7 is below the least size of letters to everywhere
    assert told(small, "world") == {'use the envelope "ISO C6"': "standardised letter"}


def test_a_thick_card_needs_the_room_it_takes() -> None:
    # Two flat sheets joined at their edges close over w x t only where 2 (w + t) <= 2 W.
    bead = Extra("bead", "1 g", "5 mm")
    figures = card_figures(card(CARDS["US A7"], extras=(bead,)))
    assert figures.thickness.low == 5 + Length.of("0.5", "mm").mm
    assert fit(figures, ENVELOPES["US A7"], CLEARANCE).fits  # 1/4 in = 6.35 mm
    thicker = card_figures(card(CARDS["US A7"], extras=(replace(bead, thickness="6 mm"),)))
    assert not fit(thicker, ENVELOPES["US A7"], CLEARANCE).fits


def test_an_envelope_of_the_makers_own_stands_in_for_one_of_the_table() -> None:
    own = Envelope("US A2", size("5", "6", "in"), "7 g")
    project = replace(
        card(CARDS["US A2"], unit="in"), envelopes=(own,), posting=Posting(envelope="US A2")
    )
    found = card_by_post(project, DESK)
    assert found.chosen
    assert found.letter
    assert found.chosen.envelope == own
    assert found.letter.grams.low == found.figures.grams.low + 7


@pytest.mark.parametrize(
    ("posting", "said"),
    [
        (
            Posting(envelope="US A1"),
            '"US A1" (≈ 92 × 130 mm) is too small: a card of 105 × 148 mm needs about 3.2 mm',
        ),
        (Posting(envelope="US A22"), 'no envelope is called "US A22"; did you mean "US A2"?'),
        (Posting(to="mars"), 'post, to: no post is called "mars"; use one of "us", "uk"'),
    ],
)
def test_what_cannot_be_is_told_in_one_line(posting: Posting, said: str) -> None:
    with pytest.raises(CraftError) as error:
        card_by_post(card(A6, posting=posting), DESK)
    assert said in str(error.value)
    assert "\n" not in str(error.value)


def test_posts_follow_the_units_the_workshop_and_the_project() -> None:
    assert card_by_post(card(A6), DESK).post.key == "world"
    assert card_by_post(card(A6, unit="in"), DESK).post.key == "us"
    assert card_by_post(card(A6), Desk(to="uk")).post.key == "uk"
    to_canada = card(A6, posting=Posting(to="ca"))
    assert card_by_post(to_canada, Desk(to="uk")).post.key == "ca"
    assert card_by_post(to_canada, Desk(to="uk"), "de").post.key == "de"


def test_a_card_that_no_envelope_takes_has_no_class() -> None:
    found = card_by_post(card(size("360", "100", "mm")), DESK)
    assert found.fits == ()
    assert found.judgement is None


def test_a_lighter_mat_is_suggested_where_one_is_in_the_project() -> None:
    mat = Piece("mat", size("100", "140", "mm"), ("board",))
    heavy, light = paper("board", "600 gsm"), paper("slip", "100 gsm")
    project = card(A6, mat, papers=(heavy, light), posting=Posting(to="de", envelope="ISO C6"))
    assert class_of(project) == "Kompaktbrief"
    found = told(project, "de")
    assert found['cut "mat" from "slip"'] == "Standardbrief"
    assert found['cut the card base from "slip"'] == "Standardbrief"
    assert 'cut the card base from "board"' not in found


def test_leaving_off_a_lump_is_suggested() -> None:
    bead, tape = Extra("bead", "0.4 g", "1 mm"), Extra("tape", "0.1 g", flat=True)
    project = card(CARDS["US A7"], extras=(bead, tape), posting=Posting(envelope="US A7"))
    assert class_of(project, "us").startswith("letter, sorted by hand")
    assert told(project, "us") == {'leave off "bead"': "letter, sorted by machine"}


def test_two_lumps_are_left_off_together() -> None:
    lumps = (Extra("bead", "0.4 g", "1 mm"), Extra("button", "1 g", "2 mm"))
    project = card(CARDS["US A7"], extras=lumps, posting=Posting(envelope="US A7"))
    assert list(told(project, "us")) == ['leave off "bead" and "button"']


def test_another_envelope_is_suggested() -> None:
    # C5 is a flat in the US (DMM 101.1.1: 6 1/8 in high at most); A9 is not.
    project = card(A6, posting=Posting(envelope="ISO C5"))
    found = told(project, "us")
    assert found['use the envelope "ISO C6"'] == "letter, sorted by machine"
    assert 'use the envelope "ISO C4"' not in found


def test_turning_is_suggested() -> None:
    project = card(CARDS["US A7"], posting=Posting(envelope="US A7", upright=True))
    assert class_of(project, "us").startswith("letter, sorted by hand")
    words = "turn it by 90 degrees, the address along the long side"
    assert told(project, "us") == {words: "letter, sorted by machine"}


def test_gluing_down_without_pads_is_suggested() -> None:
    tag = Piece("tag", size("40", "40", "mm"), ("birch card",), raised=Length.of(2, "mm"))
    project = card(CARDS["US A7"], tag, posting=Posting(envelope="US A7"))
    assert told(project, "us") == {'glue "tag" down without foam pads': "letter, sorted by machine"}


def test_every_suggestion_is_worked_out() -> None:
    mat = Piece("mat", size("100", "140", "mm"), ("board",))
    papers = (paper("board", "600 gsm"), paper("slip", "100 gsm"))
    project = card(A6, mat, papers=papers, posting=Posting(to="de", envelope="ISO C5"))
    before = card_by_post(project, DESK)
    for each in suggestions(project, DESK, before):
        assert card_by_post(each.project, DESK) == each.card


def test_an_unenveloped_card_is_judged_as_it_is() -> None:
    flat = card(size("148", "105", "mm"), posting=Posting(envelope=UNENVELOPED))
    found = card_by_post(flat, DESK, "us")
    assert found.chosen is None
    assert found.letter
    assert not found.letter.enveloped
    assert found.letter.thickness == found.figures.thickness


def test_a_guide_says_size_weight_thickness_envelope_and_class() -> None:
    project = card(CARDS["US A7"], posting=Posting("us"), unit="in")
    envelope, figures, travels = letter_lines(
        card_by_post(project, DESK), 9, "in", TwoUnits("in").both_sizes
    )
    assert envelope == "9 × envelope US A7, 5 1/4 × 7 1/4 in (133.4 × 184.2 mm)"
    assert figures.startswith("By post: one card is 5 × 7 in (127 × 177.8 mm), ")
    # 200 g/m2 on 127 x 355.6 mm are 9.03 g; two leaves of 0.25 mm.
    assert "(9 g)" in figures
    assert figures.endswith("(0.5 mm) thick")
    assert travels.endswith("Limits change: check with your post office.")
    assert "letter, sorted by machine" in travels


def test_two_changes_are_suggested_where_one_is_not_enough() -> None:
    bead = Extra("bead", "0.4 g", "1 mm")
    project = card(CARDS["US A7"], extras=(bead,), posting=Posting(envelope="US A7", upright=True))
    found = list(told(project, "us"))
    assert found[0] == (
        'turn it by 90 degrees, the address along the long side, and leave off "bead"'
    )
    assert len(found) == 1
