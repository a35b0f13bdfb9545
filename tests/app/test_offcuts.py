"""What a batch leaves is offered to the stock, of the open project or in its file."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.bench import at_bench, batch_begun, on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, running, said
from tests.making.plans import GULL, HARBOUR, NET, PLAN, size
from workbench.app.app import TrimtallyApp
from workbench.app.screens import run
from workbench.app.screens.offcuts_form import OffcutsForm
from workbench.app.widgets.questions import Question
from workbench.craft.paper import Offcut
from workbench.planning import Cut
from workbench.store.database import Workshop
from workbench.store.project_file import read_project

OFFCUTS = (Offcut(NET, size("2 1/4", "4 3/4"), 1), Offcut(GULL, size("2 1/4", "4 3/4"), 1))
CUTS = sum(isinstance(step, Cut) for step in PLAN.steps)
NARROW = (60, 20)


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's finger never bounces."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


async def all_cut(pilot: Pilot[None], batch_id: int) -> None:
    await at_bench(pilot, batch_id)
    await pressed(pilot, ["space"] * CUTS)


async def test_after_the_last_cut_they_are_offered_and_go_in_the_file(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"] * (CUTS - 1) + ["f"])
        assert not isinstance(pilot.app.screen, OffcutsForm)
        await pressed(pilot, ["space"])
        assert "2 worth keeping: f puts them in the stock" in on_screen(pilot)
        await pressed(pilot, ["f"])
        assert "1 of 2 1/4 × 4 3/4 in, gull dot" in on_screen(pilot)
        await pressed(pilot, ["f4"])
        assert "worth keeping" not in on_screen(pilot)
        await pressed(pilot, ["f"])
        assert not isinstance(pilot.app.screen, OffcutsForm)
        await pressed(pilot, ["a"] * 9)
        assert "Offcuts, in the stock" in on_screen(pilot)
    used_up = tuple(replace(paper, sheets=0) for paper in HARBOUR.papers)
    assert read_project(harbour) == replace(HARBOUR, offcuts=OFFCUTS, papers=used_up)
    (event,) = (event for event in Workshop.open().events(batch_id) if event.what == "stocked")
    assert event.offcuts == OFFCUTS


async def test_one_may_be_left_out_and_what_was_used_left_in_the_stock(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["a"] * 9)
        assert "Offcuts to keep: f puts them in the stock" in on_screen(pilot)
        await pressed(pilot, ["f", "space", "down", "down", "space", "f4"])
    stock = read_project(harbour)
    assert stock.offcuts == OFFCUTS[1:]
    assert stock.papers == HARBOUR.papers


@pytest.mark.usefixtures("planned")
async def test_the_open_project_takes_them_up_and_can_undo_it(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with running(harbour) as (app, pilot):
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
        assert app.session and app.session.project.offcuts == OFFCUTS
        assert not app.session.changed
        await pressed(pilot, ["escape", "z"])
        assert not app.session.project.offcuts
    assert read_project(harbour).offcuts == OFFCUTS


async def test_where_there_is_no_file_it_says_so() -> None:
    batch_id = batch_begun()
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
        await settled(pilot)
        assert "no file" in said(app)
    assert all(event.what != "stocked" for event in Workshop.open().events(batch_id))


async def test_her_notes_in_the_file_stay(harbour: Path) -> None:
    harbour.write_text(f"# for the regatta\n{harbour.read_text()}")
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
    assert read_project(harbour).offcuts == OFFCUTS
    assert harbour.read_text().startswith("# for the regatta\n")


@pytest.mark.usefixtures("planned")
async def test_a_file_that_another_hand_changed_is_asked_about(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    async with running(harbour) as (app, pilot):
        await all_cut(pilot, batch_id)
        theirs = harbour.read_text() + "\n# theirs\n"
        harbour.write_text(theirs)
        await pressed(pilot, ["f"])
        await pilot.press("f4")
        await pilot.pause()
        assert isinstance(app.screen, Question)
        await pressed(pilot, ["escape"])
    assert harbour.read_text() == theirs
    assert all(event.what != "stocked" for event in Workshop.open().events(batch_id))


async def test_what_is_of_a_paper_that_the_project_lost_is_said_and_left(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    harbour.write_text(harbour.read_text().replace(NET, "kelp weave"))
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
        assert f'"{NET}" is not among the project\'s papers any more' in said(app)
    assert read_project(harbour).offcuts == OFFCUTS[1:]
    (event,) = (event for event in Workshop.open().events(batch_id) if event.what == "stocked")
    assert event.offcuts == OFFCUTS[1:]


async def test_a_file_that_is_gone_is_said_and_they_can_be_kept_later(harbour: Path) -> None:
    batch_id = Workshop.open().create_batch(HARBOUR, harbour, PLAN)
    moved = harbour.rename(harbour.with_name("moved.toml"))
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
        assert "Open the project from where it is now" in said(app)
    async with running(moved) as (app, pilot):
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["f", "f4"])
    assert read_project(moved).offcuts == OFFCUTS


@pytest.mark.parametrize("size", [SMALL, LARGE, NARROW])
async def test_pictures_of_the_offer(look: Look, size: tuple[int, int]) -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=size) as pilot:
        await all_cut(pilot, batch_id)
        await pressed(pilot, ["f"])
        await look(pilot, "run-offcuts")
