"""Pictures of the drawer's pages and forms."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import Input, OptionList, Static

from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running, type_over, until
from tests.making.plans import HARBOUR, NET
from tests.store.drawing import LAST, begin, stocked, taken_again, ticked
from workbench.app.app import TrimtallyApp
from workbench.app.screens.drawer_files import ImportScreen
from workbench.app.screens.offers import OffersScreen
from workbench.app.widgets.stock_list import StockList
from workbench.craft.stock import StockPaper
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.project_file import write_project
from workbench.store.stock_rows import RowReader

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["small", "large"])
DESCRIBED = {
    "name": "lantern dot",
    "kind": "patterned",
    "size": "12 x 12 in",
    "sheets": "14",
    "print": "dot",
    "colours": "#a4502f #f6f1e7",
    "run": "up",
    "weight": "120 gsm",
    "pad": "Autumn pad",
    "price": "12.95 / 24",
    "lies": "drawer 3",
    "tags": "autumn; warm",
    "note": "a little darker than it looks",
}


@pytest.fixture
def drawer(workshop_folder: Path) -> Drawer:
    """Papers of a batch that is finished and of one under way, and one that has all words."""
    drawer = Drawer(Workshop.open(workshop_folder))
    project = stocked(drawer, 4)
    ticked(drawer.workshop, begin(drawer, project), LAST)
    ticked(drawer.workshop, begin(drawer, project), 2)
    read = RowReader("in", "EUR").read(DESCRIBED)
    assert isinstance(read, StockPaper)
    drawer.add(read)
    return drawer


def there(app: TrimtallyApp) -> bool:
    lists = app.screen.query(StockList)
    return bool(lists) and lists.first().at_hand is not None


def words(app: TrimtallyApp, widget: str) -> str:
    return "".join(str(each.visual) for each in app.screen.query(widget).results(Static))


@SIZES
async def test_drawer(drawer: Drawer, look: Look, size: tuple[int, int]) -> None:
    async with running(size=size) as (app, pilot):
        await press(pilot, "d")
        await until(pilot, lambda: there(app))
        await press(pilot, "down", "down", "down")
        await look(pilot, "drawer")
        await press(pilot, "c")
        await look(pilot, "drawer-paper")
        await press(pilot, "escape", "g")
        await type_over(pilot, "hourly", "15")
        await type_over(pilot, "extras", "envelope = 0.12; glue = 0.35 a batch")
        await look(pilot, "drawer-costs")
        await press(pilot, "escape", "l")
        await type_over(pilot, "days", "0")
        await look(pilot, "drawer-clear-out")


@SIZES
async def test_import(drawer: Drawer, tmp_path: Path, look: Look, size: tuple[int, int]) -> None:
    file = tmp_path / "stock.csv"
    rows = ["name,kind,size,sheets", "kite stripe,patterned,A4,6", "moth dot,patterned,huge,2"]
    rows += [f"reed {number},cardstock,Letter,{number}" for number in range(9)]
    file.write_text("\n".join(rows), encoding="utf-8")
    async with running(size=size) as (app, pilot):
        await press(pilot, "d", "t")
        app.screen.query_one(Input).value = str(file)
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, ImportScreen))
        await look(pilot, "drawer-import")


@SIZES
async def test_what_can_be_made(
    drawer: Drawer,
    tmp_path: Path,
    look: Look,
    size: tuple[int, int],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    linked = taken_again(drawer)
    for number, cards in enumerate((2, 9)):
        card = replace(linked.card, count=cards)
        project = replace(linked, title=f"Harbour notes for {cards}", card=card)
        write_project(tmp_path / f"{number}.toml", project)
    async with running(size=size) as (app, pilot):
        await press(pilot, "d", "w")
        await until(
            pilot, lambda: sum(rows.option_count for rows in app.screen.query(OptionList)) == 2
        )
        app.screen.query_one("#title", Static).update("What can I make? projects")
        await look(pilot, "drawer-possible")
        await press(pilot, "l")
        await until(pilot, lambda: "envelope" in words(app, "#said"))
        await look(pilot, "drawer-shopping")


@SIZES
async def test_what_was_made(drawer: Drawer, look: Look, size: tuple[int, int]) -> None:
    async with running(size=size) as (app, pilot):
        await press(pilot, "d", "y")
        await until(pilot, lambda: "different" in words(app, "#told"))
        app.screen._year = 2025  # type: ignore[attr-defined]
        await press(pilot, "right")
        await look(pilot, "drawer-made")


@SIZES
async def test_offers(drawer: Drawer, tmp_path: Path, look: Look, size: tuple[int, int]) -> None:
    drawer.add_offcuts(drawer.find(NET).id, HARBOUR.pieces[0].size, 3)
    path = tmp_path / "harbour.toml"
    write_project(path, taken_again(drawer))
    async with running(path, size=size) as (app, pilot):
        await press(pilot, "down", "f7")
        await until(pilot, lambda: isinstance(app.screen, OffersScreen))
        await look(pilot, "pieces-offcuts")
