"""When paper is short: what single change would be enough, each planned again."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.effort import FOR_SHEETS
from tests.planning.checker import plan_faults
from tests.planning.projects import eighths, half, patterned, plain, project, quarters, size
from workbench.craft.card import Piece
from workbench.craft.paper import Run
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.measure.writing import Graduation
from workbench.planning.driver import make_plan
from workbench.planning.progress import Cancelled, Watch
from workbench.planning.suggestions import Suggestion, find_suggestions
from workbench.store.project_file import read_project

SAMPLES = Path(__file__).parents[2] / "sample_projects"


def mats(sheets: int) -> Project:
    """Nine mats, five a Letter sheet (see test_common_practice)."""
    mat = Piece("mat", size(quarters(3, 1), half(4), "in"), ("letter card",))
    return project("in", 9, [plain("letter card", size(half(8), 11, "in"), sheets)], [mat])


def tiles(cards: int = 6) -> Project:
    """Six tiles would stand on a Letter sheet, two by three, were they 3 2/3 in tall."""
    tile = Piece("tile", size(quarters(4, 1), quarters(3, 3), "in"), ("wave",))
    wave = patterned("wave", size(half(8), 11, "in"), 1, "up")
    return project("in", cards, [wave], [tile])


def banners(run: Run) -> Project:
    """Two banners on one sheet only if they may lie sideways."""
    banner = Piece("banner", size(100, 150, "mm"), ("reed",))
    return project("mm", 2, [patterned("reed", size(150, 200, "mm"), 1, run)], [banner])


def cards(width: int) -> Project:
    """Flat cards from a strip of four times 100 mm."""
    strip = plain("strip", size(400, 120, "mm"), 1)
    return project("mm", 4, [strip], [], base=(width, 120))


def with_mat(asked: Project, width: int) -> Project:
    mat = Piece("mat", size(width, 100, "mm"), ("grey",))
    grey = plain("grey", size(400, 300, "mm"), 4)
    return replace(asked, pieces=(mat,), papers=(*asked.papers, grey))


ENDS: dict[str, tuple[Project, list[str]]] = {
    "nothing is short": (mats(2), []),
    "one sheet of two": (mats(1), ["get one more sheet of letter card"]),
    "two sheets missing": (mats(0), []),
    # 3 × 3 11/16 in is still 1/16 in too much.
    "a little too tall": (
        tiles(),
        ["get one more sheet of wave", "make tile 1/8 in shorter (3 5/8 in)"],
    ),
    # Seven will not fit however little is taken off.
    "too many": (tiles(7), ["get one more sheet of wave"]),
    "a print that points": (
        banners("up"),
        ["let pieces of reed lie sideways", "get one more sheet of reed"],
    ),
    "a print that runs along": (
        banners("along"),
        ["let pieces of reed lie sideways", "get one more sheet of reed"],
    ),
    "cards a little too wide": (
        cards(102),
        ["get one more sheet of strip", "make the card 2 mm narrower (100 mm)"],
    ),
    "cards too wide by more than hardly shows": (cards(104), ["get one more sheet of strip"]),
    # The mat may come as near to the edge as it likes, but no further.
    "cards as wide as their mats, nearly": (
        with_mat(cards(102), 100),
        ["get one more sheet of strip", "make the card 2 mm narrower (100 mm)"],
    ),
    "cards as wide as their mats": (
        with_mat(cards(102), 101),
        ["get one more sheet of strip"],
    ),
    "two papers short, apart": (
        replace(
            with_mat(cards(102), 100),
            papers=tuple(
                replace(paper, sheets=min(paper.sheets, int(paper.name == "strip")))
                for paper in with_mat(cards(102), 100).papers
            ),
        ),
        [],
    ),
}


HURRIED = Watch(limits=FOR_SHEETS)


def offered(asked: Project, trimmer: Trimmer | None = None) -> list[Suggestion]:
    return [*find_suggestions(asked, trimmer or Trimmer(), HURRIED)]


@pytest.mark.parametrize("name", ENDS)
def test_what_would_be_enough_is_offered_and_nothing_else(name: str) -> None:
    asked, words = ENDS[name]
    found = offered(asked)
    assert [change.words for change in found] == words
    for change in found:
        enough(change)


def enough(change: Suggestion) -> None:
    plan = make_plan(change.project, Trimmer(), HURRIED)
    assert plan.shortages == ()
    assert plan_faults(change.project, plan, Trimmer()) == []


def test_a_change_is_the_least_that_the_rule_can_show() -> None:
    """On a rule of eighths 3/32 in too much is one mark; on one of thirty-seconds, three."""
    asked = tiles()
    tile = replace(asked.pieces[0], size=size(quarters(4, 1), eighths(3, 6), "in"))
    asked = replace(asked, pieces=(tile,))
    for parts, words in ((8, "1/8 in shorter (3 5/8 in)"), (32, "3/32 in shorter (3 21/32 in)")):
        rule = Graduation("in", Length.of(1, "in").number("in") / parts)
        trimmer = Trimmer(graduations={"in": rule, "mm": Trimmer().graduations["mm"]})
        *_, last = offered(asked, trimmer)
        assert last.words == f"make tile {words}"


@pytest.mark.parametrize(
    ("name", "paper", "sheets"),
    [("regatta_thanks", "night harbour", 8), ("rainy_day_slimline", "umbrella parade", 0)],
)
def test_what_is_offered_for_a_sample_is_enough(name: str, paper: str, sheets: int) -> None:
    asked = read_project(SAMPLES / f"{name}.toml")
    papers = tuple(
        replace(each, sheets=min(each.sheets, sheets)) if each.name == paper else each
        for each in asked.papers
    )
    asked = replace(asked, papers=papers)
    found = offered(asked)
    assert f"get one more sheet of {paper}" in [change.words for change in found]
    for change in found:
        enough(change)


def test_looking_for_changes_can_be_stopped() -> None:
    with pytest.raises(Cancelled):
        next(find_suggestions(mats(1), Trimmer(), Watch(stop=lambda: True)))


def test_changes_come_one_by_one() -> None:
    """What is asked for is planned, and no more."""
    said: list[str] = []
    looked = find_suggestions(tiles(), Trimmer(), Watch(say=said.append))
    assert next(looked).words == "get one more sheet of wave"
    assert not any("tile" in stage for stage in said)
