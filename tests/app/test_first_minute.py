"""The first minute: what comes next is said, nothing is cut off, nothing lies over the bench."""

from pathlib import Path

import pytest
from textual.widgets import Footer
from textual.widgets._toast import Toast, ToastRack
from textual.widgets._tooltip import Tooltip

from tests.app.running import SMALL, press, running, said, until
from tests.making.plans import HARBOUR, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.screens import run
from workbench.app.screens.pieces import PiecesScreen
from workbench.app.screens.run import BOUNCED, RunScreen
from workbench.app.screens.trimming import TrimmingScreen
from workbench.app.widgets.progress import ProgressLine
from workbench.store.database import Workshop


async def test_opening_a_project_says_what_comes_next(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        assert "3 shows the cutting, space begins it." in said(app)
        await press(pilot, "1")
        assert said(app) == ""


@pytest.mark.parametrize("page", ["1", "2"])
async def test_a_notice_lies_over_nothing(harbour: Path, page: str) -> None:
    app = TrimtallyApp(harbour)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await press(pilot, page)
        app.notify("a notice")
        await until(pilot, lambda: bool(app.screen.query(Toast)))
        notice = app.screen.query_one(Toast).region
        shown = [each for each in app.screen.children if each.layer == "default" and each.display]
        others = [each.region for each in shown if not isinstance(each, ToastRack)]
        assert notice.height == 1
        assert not any(notice.overlaps(other) for other in others)


@pytest.mark.usefixtures("planned")
async def test_no_key_is_cut_off_at_80_columns(harbour: Path) -> None:
    Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with running(harbour, size=SMALL) as (app, pilot):
        for key in ("1", "2", "3", "4", "5", "space"):
            if key == "space":
                await press(pilot, "3")
            await press(pilot, key)
            footer = app.screen.query_one(Footer)
            assert footer.max_scroll_x == 0, key
        await until(pilot, lambda: isinstance(app.screen, RunScreen))


async def test_no_key_of_the_start_page_and_the_drawer_is_cut_off() -> None:
    async with running(size=SMALL) as (app, pilot):
        for key in ("down", "d"):
            await press(pilot, key)
            footer = app.screen.query_one(Footer)
            assert footer.max_scroll_x == 0, key


async def test_a_terminal_too_small_to_work_in_is_told(harbour: Path) -> None:
    async with running(harbour, size=(50, 15)) as (app, _):
        assert said(app).count("make it 60 × 20 or larger") == 1
    async with running(harbour, size=(60, 20)) as (app, _):
        assert "or larger" not in said(app)


async def test_a_press_taken_for_a_bounce_is_told(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "monotonic", lambda: 1_000.0)  # no time goes by between two presses
    batch = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with running() as (app, pilot):
        app.push_screen(RunScreen(batch))
        await until(pilot, lambda: bool(app.screen.query(ProgressLine)))
        await pilot.press("space", "space")
        await until(pilot, lambda: BOUNCED.split()[0] in app.export_screenshot())


async def test_no_tooltip_lies_over_the_bench(harbour: Path) -> None:
    batch = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    app = TrimtallyApp(harbour)
    async with app.run_test(size=SMALL, tooltips=True) as pilot:
        app.push_screen(RunScreen(batch))
        await until(pilot, lambda: bool(app.screen.query(Tooltip)))
        assert app.screen.query_one(Tooltip).visible is False


async def test_the_walk_leads_to_the_first_step() -> None:
    async with running() as (app, pilot):
        await press(pilot, "enter")
        assert isinstance(app.screen, PiecesScreen)
        assert "1 shows its papers" in said(app)
        await press(pilot, "1")
        assert "3 shows how they are cut" in said(app)
        await press(pilot, "3")
        assert isinstance(app.screen, TrimmingScreen)
        assert "space begins" in said(app)
