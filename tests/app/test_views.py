"""Keys pressed twice in quick succession: a screen closes itself, and none below it."""

from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Button, Input

from tests.app.running import press, running, settled
from workbench.app.screens.paper_forms import PaperForm
from workbench.app.screens.start import StartScreen
from workbench.app.screens.stock import StockScreen
from workbench.app.widgets.questions import PathQuestion


async def press_twice(pilot: Pilot[None], key: str) -> None:
    """The second press is there before anything was done about the first."""
    for _ in range(2):
        pilot.app.post_message(events.Key(key, None))
    await settled(pilot)


async def test_a_path_answered_twice_leaves_the_page_below(harbour: Path, tmp_path: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "w")
        assert isinstance(app.screen, PathQuestion)
        app.screen.query_one(Input).value = str(tmp_path / "copy.toml")
        await press_twice(pilot, "enter")
        assert isinstance(app.screen_stack[1], StockScreen)


async def test_a_form_kept_twice_leaves_the_page_below(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "c")
        assert isinstance(app.screen, PaperForm)
        app.screen.query_one("#keep", Button).focus()
        await settled(pilot)
        await press_twice(pilot, "enter")
        assert isinstance(app.screen_stack[1], StockScreen)


async def test_a_page_left_twice_shows_the_start_page(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1")
        await press_twice(pilot, "0")
        assert isinstance(app.screen, StartScreen)
        assert app.session is None


@pytest.mark.parametrize("key", ["a", "c", "d"])
async def test_a_form_asked_for_twice_opens_once(harbour: Path, key: str) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1")
        await press_twice(pilot, key)
        assert [type(screen) for screen in app.screen_stack[1:]] == [StockScreen, PaperForm]
