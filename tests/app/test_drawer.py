"""The paper drawer on the screen: searched as one types, changed by hand, taken from and told."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import Input, OptionList, Static

from tests.app.bench import on_screen
from tests.app.running import LARGE, SMALL, opened, press, running, type_over, until
from tests.making.plans import FOG, GULL, HARBOUR, NET, size
from tests.store.drawing import LAST, begin, stocked, sums, ticked
from workbench.app.app import TrimtallyApp
from workbench.app.screens.batches import BatchesScreen
from workbench.app.screens.drawer import DrawerScreen, TakeScreen
from workbench.app.screens.drawer_forms import StockForm, StockOffcutForm
from workbench.app.screens.made import MadeScreen
from workbench.app.screens.offers import OffersScreen
from workbench.app.screens.possible import PossibleScreen, ShoppingScreen, UsesScreen
from workbench.app.widgets.fields import YesNo
from workbench.app.widgets.questions import Question, TextQuestion
from workbench.app.widgets.stock_list import StockList
from workbench.craft.paper import SOLID, Paper
from workbench.craft.stock import StockPaper
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.project_file import write_project

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "regatta_thanks.toml"


@pytest.fixture
def drawer(workshop_folder: Path) -> Drawer:
    return Drawer(Workshop.open(workshop_folder))


def said(app: TrimtallyApp, name: str = "words") -> str:
    return str(app.screen.query_one(f"#{name}", Static).visual)


def rows(app: TrimtallyApp) -> list[str]:
    stock_list = app.screen.query_one(StockList)
    height = stock_list.scrollable_content_region.height
    return [line for y in range(height) if (line := stock_list.render_line(y).text.strip())]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_all_that_is_owned_is_searched_as_one_types(
    drawer: Drawer, size: tuple[int, int]
) -> None:
    ticked(drawer.workshop, begin(drawer, stocked(drawer, 3)), LAST)
    async with running(size=size) as (app, pilot):
        await press(pilot, "d")
        await until(pilot, lambda: isinstance(app.screen, DrawerScreen) and len(rows(app)) == 5)
        assert "3 papers, 2 kinds of offcuts" in said(app, "title")
        assert "3 came in: 2 free, 0 held, 1 used, 0 thrown away" in said(app)
        await press(pilot, "s", *"gull")
        assert len(rows(app)) == 2
        await press(pilot, "space", *"offcut")
        assert [row.split("  ")[0] for row in rows(app)] == [f"offcut of {GULL}"]
        await press(pilot, "escape")
        assert len(rows(app)) == 5
        await press(pilot, "escape")
        assert not isinstance(app.screen, DrawerScreen)


async def test_a_paper_is_put_in_changed_counted_removed_and_all_is_taken_back(
    drawer: Drawer,
) -> None:
    async with running() as (app, pilot):
        await press(pilot, "d")
        assert "put a paper in with a" in said(app)
        await press(pilot, "a")
        assert isinstance(app.screen, StockForm)
        for field, text in (("name", "kite stripe"), ("sheets", "6"), ("size", "A4")):
            await type_over(pilot, field, text)
        await type_over(pilot, "colours", "teal ivory")
        await type_over(pilot, "price", "cheap")
        await press(pilot, "f4")
        assert "no amount of money" in said(app, "fault")
        await type_over(pilot, "price", "7.20 / 12")
        await press(pilot, "f4")
        await until(pilot, lambda: isinstance(app.screen, DrawerScreen) and bool(rows(app)))
        line = drawer.find("kite stripe")
        assert (line.counts.on_hand, str(line.paper.price)) == (6, "7.20 EUR / 12")
        assert line.paper.paper.print == SOLID
        assert line.paper.paper.colours == ("#008080", "#fffff0")  # CSS Color Module Level 4
        await press(pilot, "n")
        assert isinstance(app.screen, TextQuestion)
        await press(pilot, "4", "enter")
        await until(pilot, lambda: "4 free" in rows(app)[0])
        await press(pilot, "x")
        assert isinstance(app.screen, Question)
        await press(pilot, "right", "enter")
        await until(pilot, lambda: rows(app) == [])
        for _ in range(2):
            await press(pilot, "z")
        await until(pilot, lambda: bool(rows(app)) and "6 free" in rows(app)[0])
    assert drawer.audit() == ()


@pytest.mark.parametrize(("width", "place"), [(60, False), (80, True)])
async def test_names_have_their_room_where_the_screen_is_narrow(
    drawer: Drawer, width: int, place: bool
) -> None:
    paper = Paper("kingfisher stripe", "patterned", size(12, 12), 1)
    drawer.add(StockPaper(paper, lies="blue box"))
    async with running(size=(width, 24)) as (app, pilot):
        await press(pilot, "d")
        await until(pilot, lambda: bool(rows(app)))
        (row,) = rows(app)
        assert ("kingfisher stripe" in row, "blue box" in row) == (True, place)


async def test_a_project_takes_a_paper_and_plans_with_what_is_free(
    drawer: Drawer, tmp_path: Path
) -> None:
    begin(drawer, stocked(drawer, 3))
    file = shutil.copy(SAMPLE, tmp_path)
    async with running(Path(file)) as (app, pilot):
        await press(pilot, "1", "t")
        await until(pilot, lambda: isinstance(app.screen, TakeScreen) and len(rows(app)) == 3)
        assert "enter Take it" in on_screen(pilot)
        await press(pilot, "enter")
        await until(pilot, lambda: not isinstance(app.screen, TakeScreen))
        taken = opened(app).project.paper(FOG)
        assert (taken.sheets, bool(taken.stock)) == (2, True)


async def test_an_opened_project_counts_its_stock_anew(drawer: Drawer, tmp_path: Path) -> None:
    project, file = stocked(drawer, 3), tmp_path / "harbour.toml"
    write_project(file, project)
    begin(drawer, project)
    async with running(file) as (app, _):
        assert [paper.sheets for paper in opened(app).project.papers] == [2, 2, 2]
        assert not opened(app).changed


async def test_only_papers_of_this_drawer_are_said_to_lie_in_it(
    drawer: Drawer, tmp_path: Path
) -> None:
    """A stranger's file names papers of another drawer."""
    project, file = stocked(drawer, 3), tmp_path / "harbour.toml"
    first, *others = project.papers
    write_project(file, replace(project, papers=(replace(first, stock="0123456789ab"), *others)))
    async with running(file) as (app, pilot):
        await press(pilot, "1")
        assert "free in the drawer" not in said(app)
        await press(pilot, "down")
        assert "3 sheets of 6 × 6 in, free in the drawer" in said(app)


async def test_a_batch_is_given_up_on_its_page(drawer: Drawer) -> None:
    begin(drawer, stocked(drawer, 3))
    async with running() as (app, pilot):
        await press(pilot, "b", "g")
        assert isinstance(app.screen, Question)
        await press(pilot, "right", "enter")
        await until(pilot, lambda: isinstance(app.screen, BatchesScreen))
        await until(pilot, lambda: drawer.workshop.batches()[0].abandoned)
    assert sums(drawer)[NET] == (3, 3, 0, 0, 0)


async def test_what_can_be_made_is_ranked_and_what_lacks_is_listed(
    drawer: Drawer, tmp_path: Path
) -> None:
    file = Path(shutil.copy(SAMPLE, tmp_path))
    write_project(tmp_path / "harbour.toml", stocked(drawer, 3))
    drawer.workshop.remember(file, "Regatta")
    async with running() as (app, pilot):
        await press(pilot, "d", "w")
        await until(
            pilot,
            lambda: (
                isinstance(app.screen, PossibleScreen)
                and app.screen.query_one(OptionList).option_count == 2
            ),
        )
        options = app.screen.query_one(OptionList)
        assert "2 of 2    Harbour" in str(options.get_option_at_index(0).prompt)
        assert "missing" in str(options.get_option_at_index(1).prompt)
        await press(pilot, "l")
        assert isinstance(app.screen, ShoppingScreen)
        await until(pilot, lambda: "night harbour" in said(app, "said"))
        await press(pilot, "escape", "escape", "i")
        assert isinstance(app.screen, UsesScreen)
        await until(pilot, lambda: "could" in said(app, "said") or "a sheet" in said(app, "said"))


async def test_what_was_made_is_told_with_its_year_and_made_again(drawer: Drawer) -> None:
    ticked(drawer.workshop, begin(drawer, stocked(drawer, 3)), LAST)
    async with running(size=LARGE) as (app, pilot):
        await press(pilot, "d", "y")
        await until(
            pilot, lambda: isinstance(app.screen, MadeScreen) and "2 different" in said(app, "told")
        )
        app.screen._year = 2026  # type: ignore[attr-defined]
        await press(pilot, "right", "left")
        assert "2026: 2 cards of 3 sheets, 13 % of their paper wasted" in said(app, "year")
        await press(pilot, "g")
        app.screen.query_one(Input).value = "2 Aunt Wren"
        await press(pilot, "enter")
        await until(pilot, lambda: "Card 2 went to Aunt Wren." in said(app, "told"))
        await press(pilot, "m")
        await until(pilot, lambda: app.session is not None)
        assert opened(app).project.title == HARBOUR.title
        assert opened(app).path is None


async def test_offcuts_are_offered_for_pieces(drawer: Drawer, tmp_path: Path) -> None:
    project, file = stocked(drawer, 3), tmp_path / "harbour.toml"
    write_project(file, project)
    drawer.add_offcuts(drawer.find(NET).id, HARBOUR.pieces[0].size, 1)
    plain = replace(project.papers[1], name="reed", stock=None, sheets=2)
    drawer.add_offcuts(drawer.add(StockPaper(plain)), HARBOUR.pieces[1].size, 2)
    async with running(file) as (app, pilot):
        await press(pilot, "2", "down")
        assert "1 of it from offcuts: F7" in said(app)
        await press(pilot, "down", "f7")
        await until(pilot, lambda: isinstance(app.screen, OffersScreen))
        options = app.screen.query_one(OptionList)
        assert "2 of 2 from 2 offcuts of reed" in str(options.get_option_at_index(1).prompt)
        await press(pilot, "enter")
        await until(pilot, lambda: len(opened(app).project.papers) == 4)
        assert opened(app).project.pieces[1].papers == ("reed", NET, GULL)
        await press(pilot, "c")
        labels = [mark.label for mark in app.screen.query(YesNo) if mark.name == "paper"]
        # Those of which an offcut is large enough stand first.
        assert labels == [NET, "reed", FOG, GULL]
        await press(pilot, "escape", "f7")
        await until(pilot, lambda: isinstance(app.screen, OffersScreen))
        app.screen.query_one(OptionList).action_last()
        await press(pilot, "enter")
        await until(pilot, lambda: len(opened(app).project.pieces) == 3)
        assert not opened(app).project.pieces[2].needed


async def test_without_any_offcuts_none_is_called_too_small(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "f7")
        await until(pilot, lambda: isinstance(app.screen, OffersScreen))
        (only,) = app.screen.query_one(OptionList).options
        assert "no offcuts yet" in str(only.prompt)


async def test_nothing_is_said_against_offcuts_before_their_size_is_written(drawer: Drawer) -> None:
    stocked(drawer, 1)
    async with running() as (app, pilot):
        await press(pilot, "d", "f")
        assert isinstance(app.screen, StockOffcutForm)
        assert said(app, "fault") == ""
        await type_over(pilot, "size", "20 x 20")
        assert "larger than a sheet" in said(app, "fault")
