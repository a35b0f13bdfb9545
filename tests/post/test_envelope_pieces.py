"""An envelope cut from paper goes round its card, and is cut with the batch."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings

from tests.craft.cards import cards
from tests.effort import examples
from tests.post.letters import card, paper, size
from workbench.craft.card import Piece, Place
from workbench.craft.checks import findings
from workbench.craft.geometry import placements
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning import make_plan
from workbench.post import Desk, card_by_post, card_figures
from workbench.post.envelope_pieces import (
    ENVELOPE_PIECE,
    LINER_PIECE,
    envelope_cut,
    with_envelope_cut,
)
from workbench.post.envelopes import CLEARANCE
from workbench.store.dump import project_text
from workbench.store.load import project_from_text

A6 = size("105", "148", "mm")


def with_envelope(project: Project, liner: str | None = None) -> Project:
    cut = envelope_cut(card_figures(project), CLEARANCE, project.units)
    return with_envelope_cut(project, cut, project.card.paper, liner)


@settings(max_examples=examples(20), deadline=None)
@given(cards(rounded=True))
def test_the_card_fits_its_own_envelope_and_is_posted_in_it(project: Project) -> None:
    made = with_envelope(project)
    found = card_by_post(made, Desk())
    assert found.chosen
    assert found.chosen.envelope == made.envelopes[0]
    assert found.figures == card_figures(project)
    # No larger than it need be, to the millimetre it is rounded up to.
    room = max(CLEARANCE, Length(found.figures.thickness.high))
    assert found.chosen.room < room + Length.of(1, "mm")


def test_the_blank_holds_front_back_flap_and_two_seams() -> None:
    cut = envelope_cut(card_figures(card(A6)), CLEARANCE, "mm")
    # 148 + 3.175 and 105 + 3.175, rounded up; two fifths of 109, rounded up; 15 mm seams.
    assert cut.outer == size("152", "109", "mm")
    assert cut.flap == Length.of(44, "mm")
    assert cut.blank == size("182", "262", "mm")
    assert cut.liner.width < cut.outer.width
    assert cut.liner.height < cut.outer.height + cut.flap


def test_it_weighs_what_its_paper_weighs() -> None:
    lined = replace(card(A6), papers=(*card(A6).papers, paper("slip", "100 gsm")))
    made = with_envelope(lined, "slip")
    # 200 g/m2 on the blank less the seams beside front and flap, 100 g/m2 on the liner.
    square_mm = 152 * 262 + 30 * 109
    liner = 146 * (109 + 44 - 20)
    grams = Fraction(200 * square_mm + 100 * liner, 1_000_000)
    assert made.envelopes[0].grams == Fraction(round(grams * 10), 10)
    unknown = replace(card(A6), papers=(paper("birch card", None),))
    assert with_envelope(unknown).envelopes[0].weight is None


def test_made_again_it_gives_way() -> None:
    once = with_envelope(card(A6), "birch card")
    again = with_envelope(once)
    assert [piece.name for piece in once.pieces] == [ENVELOPE_PIECE, LINER_PIECE]
    assert [piece.name for piece in again.pieces] == [ENVELOPE_PIECE]
    assert len(again.envelopes) == 1


def test_it_is_cut_with_the_batch_and_lies_on_no_card() -> None:
    leaf = Piece("leaf", size("60", "60", "mm"), ("birch card",), Place())
    made = with_envelope(card(A6, leaf), "birch card")
    assert [placed.piece.name for placed in placements(made)] == ["leaf"]
    metre = Length.of(1000, "mm")
    plan = make_plan(made, Trimmer(cut_length=metre, rule_length=metre))
    cut = [part.piece for sheet in plan.sheets for part in sheet.parts]
    assert cut.count(ENVELOPE_PIECE) == cut.count(LINER_PIECE) == made.card.count
    assert not [doubt for doubt in findings(made) if doubt.piece == ENVELOPE_PIECE]


def test_it_comes_back_from_the_file_and_stays_when_the_card_is_resized() -> None:
    made = with_envelope(card(A6), "birch card")
    assert project_from_text(project_text(made), "it") == made
    smaller = in_size(made, size("74", "105", "mm"))
    assert smaller.piece(ENVELOPE_PIECE) == made.piece(ENVELOPE_PIECE)
