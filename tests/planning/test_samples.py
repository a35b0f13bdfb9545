"""Every sample project: planned within its paper, proven, and checked independently."""

import math
from pathlib import Path

import pytest

from tests.planning.checker import plan_faults
from tests.planning.facts import asked_by, asked_in
from tests.samples import SAMPLES, plan_of, project_of
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.result import Plan, table_work

# Sheets worked out by hand from the sizes: the comment says from what.
SHEETS = {
    # One 7 x 10 base a Letter sheet; mats 3 x 3 and a row of greetings on one; three prints.
    "regatta_thanks": {
        "night harbour": 9,
        "sailcloth white": 1,
        "lantern dot": 1,
        "net check": 1,
        "spindrift speckle": 1,
    },
    # Two 210 x 148 bases an A4 sheet, and one more for the tabs; 3 x 4 frames on one; three prints.
    "orchard_a6": {
        "linen card": 7,
        "bark card": 1,
        "russet dot": 1,
        "crate check": 1,
        "tossed blossom": 1,
    },
    # Two bases a Letter sheet, the words beside them; 6 panels and 6 bands fill three columns of a
    # printed sheet; 64 seals fit on one.
    "choir_invitations": {
        "chalk card": 24,
        "swallow flight": 4,
        "stave stripe": 4,
        "brass dot": 1,
    },
    "one_card_from_scraps": {"clover check": 1},
    # One base a Letter sheet; three inside panels a sheet lying down, and one more for the mats.
    "rainy_day_slimline": {
        "slate card": 6,
        "fog card": 3,
        "umbrella parade": 1,
        "puddle speckle": 1,
    },
    # Eight tags an A4 sheet, and one more for labels and hole guards. 16 x (66 x 60 + 66 x 13) mm2
    # is 3.3 sheets of the 152 x 152 pad, so four.
    "market_tags": {
        "kraft card": 3,
        "marigold scallop": 2,
        "ink dot": 1,
        "receipt text": 1,
    },
    # Two 4 1/4 x 11 bases a Letter sheet; 3 x 4 mats on one; 10 x (21 + 5 + 4) square inches are
    # 2.1 squares of 12 x 12, the printed strips taken off, so three.
    "winter_fair_lanterns": {
        "midnight card": 5,
        "candle card": 1,
        "lantern scallop": 1,
        "snowfall speckle": 1,
        "pine stripe": 1,
    },
}


def planned(name: str) -> tuple[Path, Project, Plan]:
    path = next(path for path in SAMPLES if path.stem == name)
    return path, project_of(name), plan_of(name)


@pytest.fixture(params=[path.stem for path in SAMPLES])
def sample(request: pytest.FixtureRequest) -> tuple[Path, Project, Plan]:
    return planned(request.param)


def opened(plan: Plan) -> dict[str, int]:
    names = [sheet.paper for sheet in plan.sheets if not sheet.offcut]
    return {name: names.count(name) for name in names}


def test_there_are_samples() -> None:
    assert {path.stem for path in SAMPLES} == SHEETS.keys()


def test_both_readers_read_the_same_order(sample: tuple[Path, Project, Plan]) -> None:
    path, asked, _ = sample
    assert asked_by(asked) == asked_in(path.read_text("utf-8"))


def test_the_plan_has_no_faults(sample: tuple[Path, Project, Plan]) -> None:
    _, asked, plan = sample
    assert plan_faults(asked, plan, Trimmer()) == []


def test_the_plan_is_proven_and_the_paper_suffices(sample: tuple[Path, Project, Plan]) -> None:
    path, asked, plan = sample
    assert plan.totals.proven
    assert not plan.shortages
    assert plan.makeable >= asked.card.count
    assert opened(plan) == SHEETS[path.stem]


def test_the_gap_at_the_table_is_told(sample: tuple[Path, Project, Plan]) -> None:
    """Each cut makes one part more: so many pieces of so few sheets take so many cuts at least,
    each laid once, and as many strokes as the trimmer needs for them."""
    _, asked, plan = sample
    pieces = sum(part.role == "piece" for sheet in plan.sheets for part in sheet.parts)
    cuts = pieces - len(plan.sheets)
    at_once = max(Trimmer().at_once[paper.kind] for paper in asked.papers)
    assert plan.totals.least_table_seconds is not None
    least = cuts * plan.pace.sheet + math.ceil(cuts / at_once) * plan.pace.stroke
    assert least < plan.totals.least_table_seconds <= table_work(plan.cuts).seconds(plan.pace)


def test_all_the_hole_guards_fit() -> None:
    """They are wanted only if they fit, and beside the labels all sixteen do."""
    _, _, plan = planned("market_tags")
    guards = [p for sheet in plan.sheets for p in sheet.parts if p.piece == "hole guard"]
    assert len(guards) == 16


def test_lanterns_meet_as_their_maker_asks() -> None:
    """As the file says in words, read anew from the cards that the plan deals."""
    _, _, plan = planned("winter_fair_lanterns")
    shown = [set(card.pieces.values()) for card in plan.combinations]
    assert not any({"ember dot", "skater check"} <= faces for faces in shown)
    assert all(("lantern scallop" in faces) == ("snowfall speckle" in faces) for faces in shown)
    assert any(faces & {"ember dot", "skater check"} for faces in shown)
    first = plan.combinations[0].pieces
    assert (first["panel"], first["lantern"]) == ("snowfall speckle", "lantern scallop")
    mats = [part for sheet in plan.sheets for part in sheet.parts if part.piece == "mat"]
    assert len(mats) == 10 + 2


def test_the_scraps_are_used_before_anything_is_bought() -> None:
    _, _, plan = planned("one_card_from_scraps")
    assert {sheet.paper for sheet in plan.sheets if sheet.offcut} == {
        "oat card",
        "plum stripe",
        "dove vellum",
    }
    (card,) = plan.combinations
    assert (card.pieces["panel"], card.pieces["band"]) == ("clover check", "plum stripe")
