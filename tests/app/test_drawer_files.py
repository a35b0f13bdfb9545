"""The drawer's own settings, and what goes into files and comes out of them, on the screen."""

from pathlib import Path

import pytest
from textual.widgets import Button, Input, Log, OptionList

from tests.app.running import opened, press, running, said, shown, type_over, until
from tests.making.plans import FOG, GULL, HARBOUR, NET, PLAN
from tests.store.drawing import LAST, begin, stocked, sums, ticked
from workbench.app.screens.drawer import DrawerScreen
from workbench.app.screens.drawer_files import ImportScreen, RestoreScreen
from workbench.app.screens.drawer_settings import ClearOutForm, ReckoningForm
from workbench.app.widgets.questions import Question
from workbench.craft.stock import LeastUseful
from workbench.measure.length import Length
from workbench.store import backup
from workbench.store.backup import back_up, restore
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.errors import WorkshopError
from workbench.store.pricing import pricing_of
from workbench.store.project_file import write_project


@pytest.fixture
def drawer(workshop_folder: Path) -> Drawer:
    return Drawer(Workshop.open(workshop_folder))


async def test_costs_and_the_least_useful_offcut_are_set(drawer: Drawer) -> None:
    async with running() as (app, pilot):
        await press(pilot, "d", "g")
        assert isinstance(app.screen, ReckoningForm)
        for field, words in (
            ("currency", "cad"),
            ("hourly", "18"),
            ("margin", "100"),
            ("extras", "envelope = 0.12; glue = 0.35 a batch"),
            ("side", "1 1/2"),
            ("area", "9"),
        ):
            await type_over(pilot, field, words)
        await press(pilot, "f4")
        assert "100 % cannot be kept" in shown(app, "#fault")
        await type_over(pilot, "margin", "40")
        await press(pilot, "f4")
        await until(pilot, lambda: isinstance(app.screen, DrawerScreen))
    pricing = pricing_of(drawer.workshop)
    assert (pricing.currency, str(pricing.hourly), pricing.margin) == ("CAD", "18.00 CAD", 40)
    assert [str(extra.money) for extra in pricing.extras] == ["0.12 CAD", "0.35 CAD"]
    assert drawer.least_useful == LeastUseful(Length.of("3/2", "in"), 9)


async def test_an_area_shown_in_another_unit_stays_as_it_was(drawer: Drawer) -> None:
    async with running() as (app, pilot):
        await press(pilot, "d", "u", "g")
        # 6 sq in are 38.7 sq cm.
        assert app.screen.query_one("#area", Input).value == "39"
        await press(pilot, "f4")
        await until(pilot, lambda: isinstance(app.screen, DrawerScreen))
    assert drawer.least_useful == LeastUseful()


async def test_offcuts_not_worth_keeping_are_listed_and_cleared_out(drawer: Drawer) -> None:
    ticked(drawer.workshop, begin(drawer, stocked(drawer, 3)), LAST)
    async with running() as (app, pilot):
        await press(pilot, "d", "l")
        assert isinstance(app.screen, ClearOutForm)
        await press(pilot, "f4")
        assert "every offcut is worth keeping" in shown(app, "#fault")
        await type_over(pilot, "days", "0")
        assert "2 offcuts would go" in shown(app, "#offcuts")
        await press(pilot, "f4")
        await until(pilot, lambda: isinstance(app.screen, DrawerScreen))
    assert drawer.listing().offcuts == ()
    assert drawer.audit() == ()


async def test_a_file_is_taken_in_after_its_rows_fates(drawer: Drawer, tmp_path: Path) -> None:
    file = tmp_path / "stock.csv"
    async with running() as (app, pilot):
        await press(pilot, "d")
        good = "name,kind,size,sheets\nkite,patterned,A4,6\n"
        for text in (f"{good}moth,patterned,huge,2\n", good):
            file.write_text(text, encoding="utf-8")
            await press(pilot, "t")
            app.screen.query_one(Input).value = str(file)
            await press(pilot, "enter")
            await until(pilot, lambda: isinstance(app.screen, ImportScreen))
            if "moth" in text:
                lines = app.screen.query_one(Log).lines
                assert "moth: refused" in lines[0]
                assert any("kite: added" in line for line in lines[1:])
                assert app.screen.query_one("#keep", Button).disabled
                await press(pilot, "f4", "escape")
            else:
                await press(pilot, "f4")
                await until(pilot, lambda: "Taken in: 1 added" in said(app))
    assert sums(drawer) == {"kite": (6, 6, 0, 0, 0)}


async def test_stock_is_written_and_not_over_a_file_unasked(drawer: Drawer, tmp_path: Path) -> None:
    stocked(drawer, 3)
    file = tmp_path / "mine.csv"
    async with running() as (app, pilot):
        await press(pilot, "d")
        for keys in (("enter",), ("enter", "right", "enter")):
            await press(pilot, "e")
            app.screen.query_one(Input).value = str(file)
            await press(pilot, *keys)
            await until(pilot, lambda: "3 papers" in said(app))
    assert FOG in file.read_text(encoding="utf-8")


async def test_the_workshop_is_kept_and_put_back(drawer: Drawer, tmp_path: Path) -> None:
    stocked(drawer, 3)
    file = tmp_path / "kept.sqlite"
    async with running() as (app, pilot):
        await press(pilot, "d", "b")
        app.screen.query_one(Input).value = str(file)
        await press(pilot, "enter")
        await until(pilot, file.exists)
        drawer.count(drawer.find(NET).id, 1)
        await press(pilot, "r")
        assert isinstance(app.screen, RestoreScreen)
        app.screen.query_one(OptionList).action_last()
        await press(pilot, "enter")
        app.screen.query_one(Input).value = str(file)
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, Question))
        await press(pilot, "right", "enter")
        await until(pilot, lambda: "What was there lies in" in said(app))
    assert sums(drawer)[NET] == (3, 3, 0, 0, 0)


async def test_nothing_is_put_back_under_an_open_window(
    drawer: Drawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(backup, "_TURN_SECONDS", 0.1)
    stocked(drawer, 3)
    back_up(drawer.workshop.file, tmp_path / "kept.sqlite")
    async with running() as (_app, pilot):
        await press(pilot, "d")
        with pytest.raises(WorkshopError, match="another window has it open"):
            restore(drawer.workshop.file, tmp_path / "kept.sqlite")
    restore(drawer.workshop.file, tmp_path / "kept.sqlite")


async def test_papers_of_a_project_and_of_a_batch_begun_before_come_to_the_drawer(
    drawer: Drawer, tmp_path: Path
) -> None:
    file = tmp_path / "harbour.toml"
    write_project(file, HARBOUR)
    drawer.workshop.create_batch(HARBOUR, None, PLAN)
    async with running() as (app, pilot):
        await press(pilot, "b", "d")
        await until(pilot, lambda: "draws on the drawer" in said(app))
    # One sheet of each is held for the batch, and came in with it.
    assert sums(drawer) == dict.fromkeys((FOG, GULL, NET), (1, 0, 1, 0, 0))
    async with running(file) as (app, pilot):
        await press(pilot, "1", "g")
        assert isinstance(app.screen, Question)
        await press(pilot, "right", "enter")
        await until(pilot, lambda: all(paper.stock for paper in opened(app).project.papers))
        assert [paper.sheets for paper in opened(app).project.papers] == [0, 0, 0]
    assert drawer.audit() == ()
