"""Plans side by side on a screen, and what would help when paper is short."""

import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.bench import on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, opened, running, said, until
from tests.making.plans import GULL, HARBOUR, PLAN
from workbench.app.screens.choices import ChoicesScreen
from workbench.app.screens.trimming import TrimmingScreen
from workbench.app.widgets.plan_column import PlanColumn
from workbench.measure.length import ZERO
from workbench.planning.alternatives import Alternative
from workbench.planning.progress import Cancelled, Watch
from workbench.planning.result import Part, Plan, Shortage
from workbench.planning.suggestions import Suggestion
from workbench.store.database import Workshop

pytestmark = pytest.mark.usefixtures("planned")


def otherwise(plan: Plan) -> Plan:
    """A plan whose last sheet is kept as one large offcut."""
    *sheets, last = plan.sheets
    whole = Part((), "offcut", None, ZERO, ZERO, last.width, last.height)
    kept = replace(last, parts=(whole,))
    return replace(plan, sheets=(*sheets, kept))


KEEPING = otherwise(PLAN)
CHOICES = (Alternative("time", PLAN), Alternative("offcut", KEEPING))


@pytest.fixture
def two_plans(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workbench.planning.alternatives.find_alternatives", lambda *_: CHOICES)


async def comparing(pilot: Pilot[None]) -> None:
    await pressed(pilot, ["3"])
    await settled(pilot)
    # Not until every worker ends: the screen waits for an answer.
    await pilot.press("c")
    await until(pilot, lambda: isinstance(pilot.app.screen, ChoicesScreen))
    await until(pilot, lambda: bool(pilot.app.screen.query(PlanColumn)))


async def press(pilot: Pilot[None], key: str) -> None:
    await pilot.press(key)
    for _ in range(3):
        await pilot.pause()


@pytest.mark.usefixtures("two_plans")
@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_plans_stand_side_by_side_with_their_figures(
    look: Look, harbour: Path, size: tuple[int, int]
) -> None:
    async with running(harbour, size=size) as (_, pilot):
        await comparing(pilot)
        seen = on_screen(pilot)
        assert "▸ quickest" in seen
        assert "  largest offcut" in seen
        assert "at the trimmer" in seen
        assert "cuts" in seen
        await look(pilot, "choices")


@pytest.mark.usefixtures("two_plans")
async def test_the_plan_that_is_picked_is_cut_by(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await comparing(pilot)
        await press(pilot, "right")
        assert "▸ largest offcut" in on_screen(pilot)
        await press(pilot, "enter")
        assert isinstance(app.screen, TrimmingScreen)
        assert opened(app).plan == KEEPING
        assert opened(app).project.wish == "offcut"
        await pressed(pilot, ["space"])
        (line,) = Workshop.open().batches()
        assert Workshop.open().batch(line.id).plan == KEEPING


@pytest.mark.usefixtures("two_plans")
async def test_closing_changes_nothing(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await comparing(pilot)
        await press(pilot, "left")
        await press(pilot, "escape")
        assert isinstance(app.screen, TrimmingScreen)
        assert opened(app).plan == PLAN


@pytest.mark.usefixtures("two_plans")
async def test_a_click_brings_a_plan_to_hand(harbour: Path) -> None:
    async with running(harbour) as (_, pilot):
        await comparing(pilot)
        await pilot.click(pilot.app.screen.query(PlanColumn).last())
        await pilot.pause()
        assert "▸ largest offcut" in on_screen(pilot)


async def test_where_no_plan_differs_that_is_said(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.planning.alternatives.find_alternatives", lambda *_: CHOICES[:1])
    async with running(harbour) as (_, pilot):
        await comparing(pilot)
        assert "No other plan of as few sheets" in on_screen(pilot)


async def test_looking_for_plans_ends_when_the_screen_is_closed(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ended = []

    def endless(_project: object, _trimmer: object, watch: Watch, _pace: object) -> None:
        watch.stage("weighing every cut")
        while not watch.stop():
            time.sleep(0.01)
        ended.append(True)
        raise Cancelled

    monkeypatch.setattr("workbench.planning.alternatives.find_alternatives", endless)
    async with running(harbour) as (app, pilot):
        await pressed(pilot, ["3"])
        await pilot.press("c")
        await until(pilot, lambda: "weighing every cut" in on_screen(pilot))
        await press(pilot, "enter")
        assert isinstance(app.screen, ChoicesScreen)
        await press(pilot, "escape")
        await settled(pilot)
        assert isinstance(app.screen, TrimmingScreen)
        assert ended


async def test_without_a_plan_there_is_nothing_to_compare(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object) -> None:
        raise Cancelled

    monkeypatch.setattr("workbench.planning.driver.make_plan", stopped)
    async with running(harbour) as (app, pilot):
        await pressed(pilot, ["3", "c"])
        assert isinstance(app.screen, TrimmingScreen)
        assert "no finished plan" in said(app)


# Changes that would be enough


SHORT = replace(PLAN, shortages=(Shortage(GULL, 1),), makeable=1)


async def test_changes_that_would_be_enough_are_listed(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def two(*_: object) -> Iterator[Suggestion]:
        yield Suggestion("let pieces of [gull] lie sideways", HARBOUR)
        yield Suggestion("make panel 1/16 in narrower", HARBOUR)

    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: SHORT)
    monkeypatch.setattr("workbench.planning.suggestions.find_suggestions", two)
    async with running(harbour, size=LARGE) as (_, pilot):
        await pressed(pilot, ["3"])
        await settled(pilot)
        seen = " ".join(on_screen(pilot).split())
        assert "would make it enough: let pieces of [gull] lie sideways; make panel" in seen


async def test_nothing_is_said_of_changes_where_none_is_enough(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: SHORT)
    monkeypatch.setattr("workbench.planning.suggestions.find_suggestions", lambda *_: iter(()))
    async with running(harbour) as (_, pilot):
        await pressed(pilot, ["3"])
        await settled(pilot)
        assert "enough" not in on_screen(pilot)
