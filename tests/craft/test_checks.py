"""Every doubt is told with its reason, and its mend ends it."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.craft.cards import cards
from tests.making.plans import GULL, HARBOUR, inches, size
from workbench.craft.card import BASE, FRONT, Piece, Place
from workbench.craft.checks import findings
from workbench.craft.finding import Finding
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length, Unit

PANEL, TIDE = HARBOUR.pieces


def with_panel(**changes: object) -> Project:
    plain = replace(PANEL, rounding=None, **changes)  # type: ignore[arg-type]
    return replace(HARBOUR, pieces=(plain,))


def millimetres(*sides: int) -> Size:
    return Size(*(Length.of(side, "mm") for side in sides))


def in_front(*pieces: Piece) -> Project:
    return replace(HARBOUR, pieces=(PANEL, TIDE, *pieces))


CASES: dict[str, tuple[Project, str, str]] = {
    "sticks out at the right": (
        with_panel(place=Place(inches("3/4"), "centre")),
        "sticks out",
        "1/2 in over the edge",
    ),
    "larger than the card": (with_panel(size=size("4 1/2", 5)), "sticks out", "1/4 in"),
    "hidden": (
        replace(HARBOUR, pieces=(PANEL, replace(PANEL, name="sail"), TIDE)),
        "hidden",
        "completely",
    ),
    "thin border": (with_panel(size=size("3 15/16", "4 1/2")), "thin border", "only 1/32 in"),
    "off centre": (
        with_panel(size=size("3 1/2", "4 1/4"), place=Place(inches("9/32"), "centre")),
        "uneven border",
        "left and right differ by only 1/16 in",
    ),
    "off the middle": (
        with_panel(size=size("3 1/2", "4 1/4"), place=Place("centre", inches("11/32"))),
        "uneven border",
        "below and above differ by only 1/16 in",
    ),
    "off by an absurd fraction": (
        with_panel(
            size=size("3 1/2", "4 1/4"), place=Place(inches("1234567/4444444"), "centre")
        ),  # 0.27778 in from the left: 2 x 0.02778 in is 0.0556 in
        "uneven border",
        "left and right differ by only about 1/16 in",
    ),
    "nearly the same all round": (
        with_panel(size=size("3 1/2", "4 5/8")),
        "uneven border",
        "sides and above differ by only 1/16 in",
    ),
    "narrow": (with_panel(size=size("1/4", 3)), "narrow", "narrower than 1/2 in"),
    "size between marks": (with_panel(size=millimetres(90, 110)), "between marks", "its size"),
    "place between marks": (
        with_panel(size=size(2, 2), place=Place(Length.of(20, "mm"), "centre")),
        "between marks",
        "its place",
    ),
    "only sideways": (
        replace(
            with_panel(size=size("3 3/4", "4 3/4")),
            papers=(
                *HARBOUR.papers[:2],
                replace(HARBOUR.papers[2], size=size(6, 4)),
            ),
        ),
        "wrong way",
        f'"{GULL}" only sideways',
    ),
    "from a smaller paper": (
        replace(
            with_panel(size=size("3 3/4", "4 3/4")),
            papers=(*HARBOUR.papers[:2], replace(HARBOUR.papers[2], size=size(4, 4))),
        ),
        "too large",
        f'larger than a sheet of "{GULL}"',
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_doubt_is_told_and_its_mend_ends_it(name: str) -> None:
    project, kind, words = CASES[name]
    found = [finding for finding in findings(project) if finding.kind == kind]
    assert len(found) == 1
    finding = found[0]
    assert words in finding.wrong
    assert finding.why[0].isupper()
    assert finding.mended
    again = [(each.kind, each.piece) for each in findings(finding.mended)]
    assert (kind, finding.piece) not in again


def test_a_careful_card_raises_no_doubt() -> None:
    assert findings(HARBOUR) == ()


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_lengths_are_told_in_the_units_of_the_project(unit: Unit) -> None:
    project = replace(with_panel(size=size("1/4", 3)), units=unit)
    narrow = next(finding for finding in findings(project) if finding.kind == "narrow")
    assert ("1/2 in" if unit == "in" else "12.7 mm") in narrow.wrong
    assert ("1/2 in" if unit == "in" else "13 mm") in narrow.mend


def test_the_makers_own_tolerance_is_what_counts() -> None:
    doubt = findings(HARBOUR, tolerance=inches("1/4"))[0]
    assert doubt.kind == "thin border"
    assert "1/4 in" in doubt.mend
    assert doubt.mended
    again = findings(doubt.mended, tolerance=inches("1/4"))
    assert ("thin border", doubt.piece) not in [(each.kind, each.piece) for each in again]


def test_the_makers_own_trimmer_is_what_counts() -> None:
    project = with_panel(size=size("3/4", 3))
    assert not [each for each in findings(project) if each.kind == "narrow"]
    wide = findings(project, Trimmer(hold=inches(1)))
    assert [each.kind for each in wide] == ["narrow"]


def test_a_hidden_piece_that_carries_others_leaves_them_where_they_are() -> None:
    sail = replace(PANEL, name="sail", on="panel")
    project = replace(HARBOUR, pieces=(PANEL, sail, TIDE))
    finding = next(each for each in findings(project) if each.kind == "hidden")
    assert finding.mended
    assert finding.piece == "panel"
    assert finding.mended.piece("sail").on == FRONT


@given(cards(rounded=True), st.integers(0, 20))
def test_mends_can_be_applied_one_after_another_until_none_is_left(
    project: Project, many: int
) -> None:
    """As the key does: the first doubt that can be mended, at most so many times."""
    doubts = findings(project)
    for _ in range(many):
        mended = next((each.mended for each in doubts if each.mended), None)
        if mended is None:
            break
        after = findings(mended)
        assert _told(after) != _told(doubts)
        doubts = after


def _told(doubts: Sequence[Finding]) -> list[tuple[str, str, str]]:
    return [(each.kind, each.piece, each.wrong) for each in doubts]


def test_a_doubt_reads_as_sentences() -> None:
    finding = Finding("narrow", BASE, "it is narrow", "Mind your fingers", "widen it", None)
    assert str(finding) == "card base: it is narrow. Mind your fingers."
