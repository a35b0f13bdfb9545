"""Planning beside the screens, and the combinations it gives."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.running import opened, press, running, settled, shown, until
from tests.making.plans import HARBOUR, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.screens.combinations import CardScreen, letters_of
from workbench.app.widgets.card_grid import CardGrid
from workbench.app.widgets.pictures import Picture
from workbench.app.widgets.plan_line import PlanLine
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Combination, Plan, Shortage

PLANNER = "workbench.planning.driver.make_plan"


class SlowPlanner:
    """Takes as long as the test wants it to, and asks its watch as the planner does."""

    def __init__(self) -> None:
        self.asked = threading.Event()
        self.may_end = threading.Event()
        self.calls = 0

    def __call__(self, project: Project, trimmer: Trimmer, watch: Watch, *_: object) -> Plan:
        del project, trimmer
        self.calls += 1
        watch.stage("laying out")
        self.asked.set()
        while not self.may_end.wait(0.01):
            watch.stage("laying out")
        return PLAN


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> SlowPlanner:
    planner = SlowPlanner()
    monkeypatch.setattr(PLANNER, planner)
    return planner


async def finished(app: TrimtallyApp, pilot: Pilot[None]) -> None:
    await app.workers.wait_for_complete()
    await settled(pilot)


def line(app: TrimtallyApp) -> str:
    return str(app.screen.query_one(PlanLine).visual)


async def test_the_stage_is_shown_and_the_screen_stays_alive(
    harbour: Path, slow: SlowPlanner
) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await until(pilot, slow.asked.is_set)
        assert "Planning: laying out" in line(app)
        await press(pilot, "u")
        assert app.unit == "mm"
        slow.may_end.set()
        await finished(app, pilot)
        assert opened(app).plan == PLAN
        assert "2 cards from 3 sheets (no plan needs fewer), 7 cuts at 5 marks," in line(app)


async def test_one_card_from_one_sheet_is_no_plural(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    totals = replace(PLAN.totals, sheets=1, fewest_possible=1, cuts=1, marks=1)
    one = replace(PLAN, cards=1, totals=totals)
    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: one)
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        assert "1 card from 1 sheet (no plan needs fewer), 1 cut at 1 mark, about" in line(app)


async def test_planning_is_stopped_and_begun_again(harbour: Path, slow: SlowPlanner) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await until(pilot, slow.asked.is_set)
        await press(pilot, "escape")
        await until(pilot, lambda: app.stage is None)
        assert "The planning was stopped." in line(app)
        slow.may_end.set()
        await press(pilot, "p")
        await finished(app, pilot)
        assert opened(app).plan == PLAN
        assert slow.calls == 2


async def test_an_edit_makes_the_plan_stale_and_it_is_made_again_when_it_is_shown(
    harbour: Path, slow: SlowPlanner
) -> None:
    slow.may_end.set()
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        await press(pilot, "2", "4")
        await finished(app, pilot)
        assert slow.calls == 1
        await press(pilot, "2", "down", "down", "x")
        assert opened(app).plan is None
        await press(pilot, "4")
        await finished(app, pilot)
        assert slow.calls == 2
        assert opened(app).plan == PLAN


async def test_an_edit_stops_the_planning_under_way(harbour: Path, slow: SlowPlanner) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await until(pilot, slow.asked.is_set)
        await press(pilot, "2", "down", "down", "x")
        slow.may_end.set()
        await finished(app, pilot)
        assert opened(app).plan is None
        assert app.stage is None


async def test_what_cannot_be_planned_is_told_in_words(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> Plan:
        raise PlanningError('no card can show "[net]" twice; name another paper')

    monkeypatch.setattr(PLANNER, refuse)
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        assert 'no card can show "[net]" twice; name another paper' in line(app)
        assert opened(app).plan is None


async def test_a_shortage_is_told_with_what_can_be_made(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    short = replace(PLAN, shortages=(Shortage("net weave", 2),), makeable=1)
    monkeypatch.setattr(PLANNER, lambda *_: short)
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        assert "SHORT: 2 more of net weave. What is on hand makes 1 card." in line(app)


@pytest.mark.usefixtures("planned")
async def test_every_card_is_a_picture_and_its_prints_are_counted(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        assert "2 cards, 2 different" in shown(app, "#batch")
        assert "A   2 × net weave" in shown(app, "#prints")
        words = "Card 1\npanel: net weave\ntide: gull dot\ntide on card base: 1.0:1, faint\n"
        assert shown(app, "#card") == f"{words}light 62, middle 38 %"
        await press(pilot, "right")
        assert shown(app, "#card").startswith("Card 2\npanel: gull dot\ntide: net weave")
        await press(pilot, "right")
        assert shown(app, "#card").startswith("Card 2")


@pytest.mark.usefixtures("planned")
async def test_a_card_is_enlarged_and_one_walks_on_from_there(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        await press(pilot, "enter")
        assert isinstance(app.screen, CardScreen)
        first = app.screen.query_one(Picture).drawn.lines()
        await press(pilot, "right")
        assert app.screen.query_one(Picture).drawn.lines() != first
        assert shown(app, "#words").startswith("Card 2")
        await press(pilot, "escape")
        assert app.screen.query_one(CardGrid).at == 1


async def test_the_largest_batch_is_walked_through_and_clicked(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many = tuple(
        Combination(card, PLAN.combinations[card % 2].pieces) for card in range(1, 100_001)
    )
    monkeypatch.setattr(PLANNER, lambda *_: replace(PLAN, combinations=many))
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await finished(app, pilot)
        grid = app.screen.query_one(CardGrid)
        assert shown(app, "#batch").startswith("100000 cards, 2 different")
        grid.at = 99_999
        await settled(pilot)
        assert shown(app, "#card").startswith("Card 100000")
        assert grid.scroll_y > 1000
        await press(pilot, "up", "left")
        abreast = grid.size.width // 16
        assert grid.at == 99_999 - abreast - 1
        await pilot.click(CardGrid, offset=(20, 3))
        assert grid.at % abreast == 1


def test_letters_go_on_after_z() -> None:
    papers = tuple(replace(HARBOUR.papers[1], name=f"net {number}") for number in range(30))
    piece = replace(HARBOUR.pieces[0], papers=tuple(paper.name for paper in papers))
    project = replace(HARBOUR, papers=(HARBOUR.papers[0], *papers), pieces=(piece,))
    letters = list(letters_of(project).values())
    assert letters[:2] + letters[24:29] == ["A", "B", "Y", "Z", "AA", "AB", "AC"]


async def test_a_first_plan_is_shown_while_a_better_one_is_looked_for(
    harbour: Path, slow: SlowPlanner, monkeypatch: pytest.MonkeyPatch
) -> None:
    early = replace(PLAN, totals=replace(PLAN.totals, sheets=4))
    monkeypatch.setattr("workbench.planning.driver.first_plan", lambda *_: early)
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await until(pilot, slow.asked.is_set)
        assert "2 cards from 4 sheets (at least 3)" in line(app)
        assert "Better may come: laying out" in line(app)
        assert opened(app).plan == early
        slow.may_end.set()
        await finished(app, pilot)
        assert opened(app).plan == PLAN
        assert "Looking" not in line(app)


async def test_stopping_keeps_the_first_plan(
    harbour: Path, slow: SlowPlanner, monkeypatch: pytest.MonkeyPatch
) -> None:
    early = replace(PLAN, totals=replace(PLAN.totals, sheets=4))
    monkeypatch.setattr("workbench.planning.driver.first_plan", lambda *_: early)
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        await until(pilot, slow.asked.is_set)
        await press(pilot, "escape")
        await until(pilot, lambda: app.stage is None)
        assert opened(app).plan == early
        assert "Stopped early: a better plan may be possible (p plans again)." in line(app)
        slow.may_end.set()
        await press(pilot, "p")
        await finished(app, pilot)
        assert opened(app).plan == PLAN
