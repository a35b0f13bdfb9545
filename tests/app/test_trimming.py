"""The Trimming page: the sheets, the steps, and the way to the bench."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.bench import on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, opened, running, said
from tests.making.plans import GULL, PLAN
from workbench.app.screens import run
from workbench.app.screens.run import RunScreen
from workbench.app.screens.trimming import TrimmingScreen
from workbench.planning.progress import PlanningError
from workbench.planning.result import Shortage
from workbench.store.database import Workshop

pytestmark = pytest.mark.usefixtures("planned")


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


async def in_trimming(pilot: Pilot[None]) -> None:
    await pressed(pilot, ["3"])
    await settled(pilot)
    assert isinstance(pilot.app.screen, TrimmingScreen)


async def test_it_says_how_many_sheets_and_that_fewer_is_impossible(harbour: Path) -> None:
    async with running(harbour) as (_, pilot):
        await in_trimming(pilot)
        assert "2 cards from 3 sheets (no plan needs fewer)" in on_screen(pilot)


async def test_sheets_cut_alike_are_shown_once_and_walked_with_arrows(harbour: Path) -> None:
    async with running(harbour) as (_, pilot):
        await in_trimming(pilot)
        first = on_screen(pilot)
        assert "1 of 2: sheet 6 × 6 in" in first
        assert "1 × net weave, 1 × gull dot" in first
        await pressed(pilot, ["right"])
        assert "2 of 2: sheet 8 1/2 × 11 in" in on_screen(pilot)
        await pressed(pilot, ["right"])
        assert on_screen(pilot) == first
        await pressed(pilot, ["left"])
        assert "2 of 2" in on_screen(pilot)
        await pilot.click("#sheet")
        await settled(pilot)
        assert on_screen(pilot) == first


async def test_steps_stand_under_their_marks_in_either_unit(harbour: Path) -> None:
    async with running(harbour, size=LARGE) as (_, pilot):
        await in_trimming(pilot)
        seen = on_screen(pilot)
        assert "Cut at 4 3/4 in" in seen
        assert "2 × sheet of net weave" in seen
        assert "6 part 8 1/2 × 10 of fog card" in seen
        assert "card 1: net weave and gull dot" in seen
        await pressed(pilot, ["u"])
        assert "Cut at ≈ 121 mm" in on_screen(pilot)


async def test_beginning_keeps_a_copy_and_goes_to_the_bench(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await in_trimming(pilot)
        await pressed(pilot, ["space"])
        await settled(pilot)
        assert isinstance(app.screen, RunScreen)
        (line,) = Workshop.open().batches()
        kept = Workshop.open().batch(line.id)
        assert (kept.project, kept.plan) == (opened(app).project, PLAN)
        assert line.path == harbour


async def test_a_batch_under_way_is_gone_on_with(harbour: Path) -> None:
    async with running(harbour, size=LARGE) as (app, pilot):
        await in_trimming(pilot)
        await pressed(pilot, ["space"])
        await settled(pilot)
        await pressed(pilot, ["space", "space", "escape"])
        await settled(pilot)
        seen = on_screen(pilot)
        assert "Under way: 2 of 12 steps done" in seen
        assert seen.count("✓") == 2
        assert "▸       3 2 × part" in seen
        await pressed(pilot, ["space"])
        await settled(pilot)
        assert isinstance(app.screen, RunScreen)
        assert "step 3 of 12" in on_screen(pilot)
    assert len(Workshop.open().batches()) == 1


async def test_another_batch_can_be_begun_beside_one_under_way(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await in_trimming(pilot)
        await pressed(pilot, ["space"])
        await settled(pilot)
        await pressed(pilot, ["escape"])
        await settled(pilot)
        await pressed(pilot, ["b"])
        await settled(pilot)
        assert isinstance(app.screen, RunScreen)
    assert len(Workshop.open().batches()) == 2


async def test_changing_the_project_leaves_the_batch_its_own_plan(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(harbour, size=LARGE) as (app, pilot):
        await in_trimming(pilot)
        await pressed(pilot, ["space"])
        await settled(pilot)
        await pressed(pilot, ["escape"])
        await settled(pilot)
        other = replace(PLAN, steps=PLAN.steps[:-1])
        monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: other)
        project = opened(app).project
        app.change_project(replace(project, pieces=project.pieces[:1]))
        await settled(pilot)
        app.planning.ensure()
        await settled(pilot)
        assert "keeps the plan it was begun with" in on_screen(pilot)
        assert "▸" not in on_screen(pilot)


async def test_missing_paper_is_told_and_asked_about(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    short = replace(PLAN, shortages=(Shortage(GULL, 1),), makeable=1)
    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: short)
    async with running(harbour, size=LARGE) as (app, pilot):
        await in_trimming(pilot)
        assert "1 more of gull dot" in " ".join(on_screen(pilot).split())
        await pilot.press("space")
        await pilot.pause()
        assert not isinstance(app.screen, TrimmingScreen | RunScreen)
    assert not Workshop.open().batches()


async def test_without_a_plan_nothing_is_begun(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise PlanningError("no amount of paper would do")

    monkeypatch.setattr("workbench.planning.driver.make_plan", fail)
    async with running(harbour) as (app, pilot):
        await in_trimming(pilot)
        assert "no amount of paper would do" in on_screen(pilot)
        await pressed(pilot, ["right", "space"])
        assert isinstance(app.screen, TrimmingScreen)
        assert "no plan to cut by" in said(app)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_pictures_of_trimming(look: Look, harbour: Path, size: tuple[int, int]) -> None:
    async with running(harbour, size=size) as (_, pilot):
        await in_trimming(pilot)
        await look(pilot, "trimming")
