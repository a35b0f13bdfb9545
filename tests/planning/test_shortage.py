"""When paper is short: what to buy and what can be made, each proven by planning again."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import FOR_SHEETS, examples
from tests.making.plans import HARBOUR
from tests.planning.checker import plan_faults
from tests.planning.projects import half, plain, project, quarters, size
from workbench.craft.card import FRONT, Piece
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.driver import make_plan, survey
from workbench.planning.progress import Watch
from workbench.planning.result import Plan
from workbench.store.project_file import read_project

SAMPLES = Path(__file__).parents[2] / "sample_projects"


def with_sheets(asked: Project, sheets: Mapping[str, int]) -> Project:
    papers = tuple(
        replace(paper, sheets=sheets.get(paper.name, paper.sheets)) for paper in asked.papers
    )
    return replace(asked, papers=papers)


def with_count(asked: Project, cards: int) -> Project:
    return replace(asked, card=replace(asked.card, count=cards))


def planned(asked: Project) -> Plan:
    return make_plan(asked, Trimmer(), Watch(limits=FOR_SHEETS))


def mats(sheets: int) -> Project:
    """Nine mats, five a Letter sheet (see test_common_practice)."""
    mat = Piece("mat", size(quarters(3, 1), half(4), "in"), ("letter card",))
    return project("in", 9, [plain("letter card", size(half(8), 11, "in"), sheets)], [mat])


def sample(name: str, **sheets: int) -> Project:
    asked = read_project(SAMPLES / f"{name}.toml")
    return with_sheets(asked, {key.replace("_", " "): count for key, count in sheets.items()})


def only(asked: Project, *names: str) -> Project:
    """The same with no other pieces than these, and the papers they need."""
    pieces = tuple(replace(asked.piece(name), on=FRONT) for name in names)
    used = {asked.card.paper, *(paper for piece in pieces for paper in piece.papers)}
    papers = tuple(paper for paper in asked.papers if paper.name in used)
    return replace(asked, pieces=pieces, papers=papers, offcuts=())


# What is asked, what must be bought, how many cards can be made without: worked out by hand.
SHORT: dict[str, tuple[Project, dict[str, int], int]] = {
    "no sheet at all": (mats(0), {"letter card": 2}, 0),
    "one of two sheets": (mats(1), {"letter card": 1}, 5),
    # Every card of the regatta shows three prints, so two prints make none.
    "a print missing": (
        only(sample("regatta_thanks", net_check=0), "panel", "band", "patch"),
        {"net check": 1},
        0,
    ),
    # One base a sheet.
    "bases for six": (
        only(sample("regatta_thanks", night_harbour=6), "mat"),
        {"night harbour": 3},
        6,
    ),
    # Two bases a sheet and the words beside them.
    "a large batch": (
        only(sample("choir_invitations", chalk_card=20), "words"),
        {"chalk card": 4},
        40,
    ),
    # Three columns a sheet, each of two panels and two bands, or one and five, or eight bands.
    # Forty cards: 24 panels fill the stave stripe's twelve columns, with 16 bands; 16 panels and
    # 24 bands take the other print's nine. Forty-one would leave 26 panels to the stave stripe.
    "a large batch of prints": (
        only(sample("choir_invitations", swallow_flight=3, stave_stripe=4), "panel", "band"),
        {"swallow flight": 1},
        40,
    ),
    "nothing but scraps": (
        sample("one_card_from_scraps", clover_check=0),
        {"clover check": 1},
        0,
    ),
}


def test_of_two_prints_that_serve_alike_as_many_are_bought() -> None:
    """Counted out: a sheet gives one panel with one tide beside it, so that nine take ten."""
    asked = with_count(with_sheets(HARBOUR, {paper.name: 1 for paper in HARBOUR.papers}), 9)
    bought = {each.paper: each.sheets for each in planned(asked).shortages}
    assert bought["net weave"] == bought["gull dot"] == 4


@pytest.mark.parametrize("name", SHORT)
def test_the_shortage_is_exact(name: str) -> None:
    asked, bought, makeable = SHORT[name]
    plan = planned(asked)
    assert {shortage.paper: shortage.sheets for shortage in plan.shortages} == bought
    assert plan.makeable == makeable
    assert plan_faults(asked, plan, Trimmer()) == []


@pytest.mark.parametrize("name", SHORT)
def test_buying_the_shortage_is_enough_and_one_sheet_less_is_not(name: str) -> None:
    asked, bought, _ = SHORT[name]
    on_hand = {paper.name: paper.sheets for paper in asked.papers}
    enough = {paper: on_hand[paper] + sheets for paper, sheets in bought.items()}
    plan = planned(with_sheets(asked, enough))
    assert not plan.shortages
    assert plan.makeable >= asked.card.count
    for paper in bought:
        less = planned(with_sheets(asked, enough | {paper: enough[paper] - 1}))
        assert sum(shortage.sheets for shortage in less.shortages) == 1


@pytest.mark.parametrize("name", SHORT)
def test_as_many_as_said_can_be_made_and_not_one_more(name: str) -> None:
    asked, _, makeable = SHORT[name]
    if makeable:
        assert not planned(with_count(asked, makeable)).shortages
    assert planned(with_count(asked, makeable + 1)).shortages


def two_mats(first: int, second: int) -> Project:
    """Eighteen cards of two mats, each of a paper of its own, with so many sheets on hand."""
    large = size(quarters(3, 1), half(4), "in")  # five a Letter sheet (see test_common_practice)
    small = size(quarters(4, 1), half(5), "in")  # four, as Letter is halved twice
    letter = size(half(8), 11, "in")
    return project(
        "in",
        18,
        [plain("moss card", letter, first), plain("chalk card", letter, second)],
        [Piece("mat", large, ("moss card",)), Piece("panel", small, ("chalk card",))],
    )


@given(st.integers(0, 4), st.integers(0, 5))
@settings(max_examples=examples(6), deadline=None)
def test_what_two_short_papers_make_is_what_the_shorter_one_does(first: int, second: int) -> None:
    """Counted out; a plan of as many needs no more paper, and a plan of one more does."""
    asked = two_mats(first, second)
    makeable = min(5 * first, 4 * second, asked.card.count)
    assert survey(asked, Trimmer(), Watch(), soon=True).makeable == makeable
    if makeable:
        assert not planned(with_count(asked, makeable)).shortages
    if makeable < asked.card.count:
        assert planned(with_count(asked, makeable + 1)).shortages
