"""Opening, saving and leaving."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.widgets import Input, OptionList

from tests.app.running import opened, press, running, said, settled, shown, type_over
from tests.making.plans import HARBOUR, PLAN
from workbench.app.opening import open_sample
from workbench.app.samples import samples
from workbench.app.screens.pieces import PiecesScreen
from workbench.app.screens.run import RunScreen
from workbench.app.screens.start import StartScreen
from workbench.app.screens.start_form import NewCardForm
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.questions import PathQuestion, Question
from workbench.drawing.canvas import width_of
from workbench.making.events import Event
from workbench.store.database import Workshop
from workbench.store.project_file import read_project


def listed(app: object) -> list[str]:
    options = app.screen.query_one(OptionList)  # type: ignore[attr-defined]
    return [str(option.prompt) for option in options.options]


async def test_the_start_page_lists_what_waits_first_then_projects_and_samples(
    harbour: Path,
) -> None:
    workshop = Workshop.open()
    workshop.remember(harbour, HARBOUR.title)
    batch = workshop.create_batch(HARBOUR, harbour, PLAN)
    workshop.append(batch, Event("ticked", 1, datetime.now(UTC)), 1)
    async with running() as (app, pilot):
        lines = listed(app)
        assert lines[0] == "Resume"
        assert "1 of 12 steps, last" in lines[1]
        assert lines[2] == "Projects"
        assert lines[3].endswith(harbour.name)
        assert lines.index("Samples") > 3
        assert lines[lines.index("Samples") + 1].startswith("  A short walk")
        assert len(lines) - lines.index("Samples") - 2 == len(samples())
        await press(pilot, "enter")
        assert isinstance(app.screen, RunScreen)


async def test_what_samples_are_is_told_whole_on_80_columns() -> None:
    async with running() as (app, _):
        options = app.screen.query_one(OptionList)
        assert max(map(width_of, listed(app))) <= options.scrollable_content_region.width


@pytest.mark.parametrize(("width", "height", "below"), [(80, 12, False), (60, 20, True)])
async def test_beside_a_scroll_bar_or_below_its_title_what_a_sample_is_has_room(
    width: int, height: int, below: bool
) -> None:
    async with running(size=(width, height)) as (app, _):
        options, lines = app.screen.query_one(OptionList), "\n".join(listed(app)).splitlines()
        assert options.show_vertical_scrollbar
        assert max(map(width_of, lines)) <= options.scrollable_content_region.width
        alone = {line.strip() for line in lines}
        assert all((sample.about in alone) == below for sample in samples())


async def test_as_much_of_a_path_is_shown_as_there_is_room_for(tmp_path: Path) -> None:
    path = tmp_path / ("cards " * 12) / "harbour.toml"
    Workshop.open().remember(path, HARBOUR.title)
    for width in (80, 120):
        async with running(size=(width, 24)) as (app, _):
            line = next(line for line in listed(app) if line.endswith(path.name))
            assert len(line) == width - 4
            assert "…" in line


async def test_a_finished_batch_waits_no_more() -> None:
    workshop = Workshop.open()
    batch = workshop.create_batch(HARBOUR, None, PLAN)
    for number in range(1, len(PLAN.steps) + 1):
        workshop.append(batch, Event("ticked", number, datetime.now(UTC)), number)
    async with running() as (app, _):
        assert "Resume" not in listed(app)


async def test_looking_at_the_start_page_leaves_nothing_on_disk(workshop_folder: Path) -> None:
    async with running():
        assert not workshop_folder.exists()


async def test_a_file_is_opened_by_its_path_and_remembered(harbour: Path) -> None:
    async with running() as (app, pilot):
        await press(pilot, "o")
        assert isinstance(app.screen, PathQuestion)
        app.screen.query_one(Input).value = str(harbour)
        await press(pilot, "enter")
        assert isinstance(app.screen, PiecesScreen)
        assert opened(app).project == HARBOUR
        assert not opened(app).changed
        await press(pilot, "0")
        assert isinstance(app.screen, StartScreen)
        assert any(line.endswith(harbour.name) for line in listed(app))


@pytest.mark.parametrize("name", ["nothing there.toml", "[bold]odd[/] {name}.toml"])
async def test_a_file_that_cannot_be_opened_is_told_in_words(tmp_path: Path, name: str) -> None:
    async with running(tmp_path / name) as (app, _):
        assert isinstance(app.screen, StartScreen)
        assert name in said(app)
        assert "there is no such file" in said(app)


async def test_a_sample_opens_as_a_project_without_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Saving asks for one, and never touches the sample."""
    monkeypatch.chdir(tmp_path)
    sample = samples()[0]
    before = sample.path.read_bytes()
    async with running() as (app, pilot):
        open_sample(app, sample.path)
        await settled(pilot)
        assert opened(app).path is None
        await press(pilot, "s")
        assert isinstance(app.screen, PathQuestion)
        assert app.screen.query_one(Input).value.startswith(str(tmp_path))
        await press(pilot, "enter")
        path = opened(app).path
        assert path is not None
        assert read_project(path) == read_project(sample.path)
    assert sample.path.read_bytes() == before
    assert Workshop.open().recent()[0].path == path


async def test_saving_over_another_file_asks_first(harbour: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text("keep me")
    async with running(harbour) as (app, pilot):
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(other)
        await press(pilot, "enter")
        assert isinstance(app.screen, Question)
        await press(pilot, "escape")
        assert other.read_text() == "keep me"
        assert opened(app).path == harbour


async def test_leaving_asks_about_changes_that_are_not_saved(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        app.session = opened(app).with_project(replace(HARBOUR, title="Fog notes"))
        await press(pilot, "q")
        assert isinstance(app.screen, Question)
        await press(pilot, "escape")
        assert isinstance(app.screen, PiecesScreen)
        await press(pilot, "q", "enter")
        assert not app.is_running
    assert read_project(harbour).title == "Fog notes"


async def test_changes_may_be_left_behind(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        app.session = opened(app).with_project(replace(HARBOUR, title="Fog notes"))
        await press(pilot, "0", "tab", "enter")
        assert isinstance(app.screen, StartScreen)
        assert app.session is None
    assert read_project(harbour) == HARBOUR


async def test_a_place_that_cannot_be_written_is_told_and_nothing_is_lost(
    harbour: Path, tmp_path: Path
) -> None:
    async with running(harbour) as (app, pilot):
        changed = replace(HARBOUR, title="Fog notes")
        app.session = opened(app).with_project(changed)
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(tmp_path / "no such folder" / "a.toml")
        await press(pilot, "enter")
        assert "cannot be written" in said(app)
        assert opened(app).project == changed
        assert opened(app).changed


async def test_the_unit_is_switched_anywhere(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        units: list[str] = [app.unit]
        for keys in ("1", "u"), ("0",), ("u",):
            await press(pilot, *keys)
            units.append(app.unit)
        assert units == ["in", "mm", "mm", "in"]


async def test_a_workshop_that_cannot_be_used_is_told_and_the_project_still_opens(
    harbour: Path, workshop_folder: Path
) -> None:
    workshop_folder.mkdir()
    (workshop_folder / "workshop.sqlite").write_text("not a database, but long enough to be read")
    async with running(harbour) as (app, _):
        assert "cannot be used" in said(app)
        assert isinstance(app.screen, PiecesScreen)


async def test_a_new_card_is_begun_from_a_layout() -> None:
    async with running() as (app, pilot):
        await press(pilot, "n", "down", "h")  # the next layout that begins with h
        assert app.screen.query_one("#layout", Choice).value == "Hedgerow"
        await type_over(pilot, "size", "a6")
        assert app.screen.query_one("#units", Choice).value == "millimetres"
        await type_over(pilot, "title", "Fair stall cards")
        await press(pilot, "f4")
        session = opened(app)
        assert session.path is None
        assert session.project.title == "Fair stall cards"
        assert [piece.name for piece in session.project.pieces] == ["panel", "band", "label"]
        assert session.project.units == app.unit == "mm"


async def test_enter_in_the_first_field_makes_no_card_and_an_empty_one_can_be_made() -> None:
    async with running() as (app, pilot):
        await press(pilot, "n", "enter")
        assert isinstance(app.screen, NewCardForm)
        await press(pilot, "e")
        await type_over(pilot, "size", "7 x 5")
        await press(pilot, "f4")
        project = opened(app).project
        assert project.pieces == ()
        assert len(project.papers) == 1
        assert project.card.size.width > project.card.size.height


async def test_a_new_card_is_never_lost_without_a_word() -> None:
    async with running() as (app, pilot):
        await press(pilot, "n", "f4")
        assert shown(app, "#title").startswith("(not saved) ")
        await press(pilot, "q")
        assert isinstance(app.screen, Question)
        await press(pilot, "escape", "0")
        assert isinstance(app.screen, Question)
    async with running() as (app, pilot):
        assert "Not saved" in listed(app)
        await press(pilot, "enter", "enter")
        assert opened(app).changed
