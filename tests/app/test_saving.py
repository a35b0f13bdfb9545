"""Saving never takes away what another hand wrote, nor the maker's own notes, without asking."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import Button

from tests.app.running import opened, press, running, said
from tests.making.plans import HARBOUR
from workbench.app.saving import file_name
from workbench.store.project_file import is_still, read_project, write_project

NOTE = b"# the tide comes in on the left\n"
THEIRS = replace(HARBOUR, title="Harbour, as someone else has it")


@pytest.fixture
def noted(harbour: Path) -> Path:
    harbour.write_bytes(NOTE + harbour.read_bytes())
    return harbour


async def test_notes_stay_in_a_file_that_is_saved(noted: Path) -> None:
    before = noted.read_bytes()
    async with running(noted) as (app, pilot):
        app.change_project(replace(HARBOUR, title="Fog"))
        await press(pilot, "s")
        assert noted.read_bytes() == before.replace(HARBOUR.title.encode(), b"Fog")
        await press(pilot, "z", "s")
        assert noted.read_bytes() == before
        assert not opened(app).changed


async def test_of_two_windows_that_save_at_once_one_is_asked(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other one saves after this one has looked whether the file is still the same."""

    def looked_at(path: Path, content: bytes) -> bool:
        still = is_still(path, content)
        write_project(path, THEIRS)
        return still

    monkeypatch.setattr("workbench.app.saving.is_still", looked_at)
    async with running(harbour) as (app, pilot):
        app.change_project(replace(HARBOUR, title="Fog"))
        await press(pilot, "s")
        assert app.screen.query("#theirs")
        assert read_project(harbour) == THEIRS
        assert opened(app).changed
        assert "Saved in" not in said(app)


async def test_what_a_killed_save_left_is_tidied_when_the_file_is_opened(harbour: Path) -> None:
    left = harbour.with_name(f".{harbour.name}.0123abcd")
    others = [harbour.with_name(f".{name}") for name in ("harbour.toml.kept", "else.0123abcd")]
    for path in (left, *others):
        path.touch()
    async with running(harbour):
        assert not left.exists()
        assert all(path.exists() for path in others)


@pytest.mark.parametrize("answer", ["mine", "theirs", "elsewhere", None])
async def test_a_file_changed_by_another_hand_is_asked_about(
    answer: str | None, noted: Path, tmp_path: Path
) -> None:
    async with running(noted) as (app, pilot):
        app.change_project(replace(HARBOUR, title="Fog"))
        write_project(noted, THEIRS)
        await press(pilot, "s")
        assert {str(button.id) for button in app.screen.query(Button)} == {
            "mine",
            "theirs",
            "elsewhere",
        }
        if answer is None:
            await press(pilot, "escape")
        else:
            app.screen.query_one(f"#{answer}", Button).press()
            await press(pilot)
        if answer == "elsewhere":
            from textual.widgets import Input

            app.screen.query_one(Input).value = str(tmp_path / "other.toml")
            await press(pilot, "enter")
            assert read_project(tmp_path / "other.toml").title == "Fog"
        if answer == "mine":
            assert noted.read_bytes().startswith(NOTE)
            assert read_project(noted).title == "Fog"
        else:
            assert read_project(noted) == THEIRS
        if answer == "theirs":
            assert opened(app).project == THEIRS
            assert not opened(app).changed
            await press(pilot, "z")
            assert opened(app).project.title == "Fog"


@pytest.mark.parametrize(
    ("title", "name"),
    [("Grüße, été", "grusse_ete.toml"), ("Café No. 5", "cafe_no_5.toml"), ("新年", "project.toml")],
)
def test_a_title_gives_a_file_name_that_can_still_be_read(title: str, name: str) -> None:
    assert file_name(title) == name


@pytest.mark.parametrize(
    ("typed", "name"),
    [("fog", "fog.toml"), ("No. 5", "No. 5.toml"), ("fog.txt", "fog.txt"), ("harbour", "harbour")],
)
async def test_a_name_typed_without_a_suffix_gets_one(
    typed: str, name: str, harbour: Path, tmp_path: Path
) -> None:
    """But the file that is open keeps its name, whatever that is."""
    from textual.widgets import Input

    async with running(harbour.rename(tmp_path / "harbour")) as (app, pilot):
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(tmp_path / typed)
        await press(pilot, "enter")
        assert {path.name for path in tmp_path.iterdir() if path.is_file()} >= {"harbour", name}
        assert opened(app).path == tmp_path / name


async def test_a_folder_is_no_file_that_could_be_replaced(harbour: Path, tmp_path: Path) -> None:
    from textual.widgets import Input

    async with running(harbour) as (app, pilot):
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(tmp_path)
        await press(pilot, "enter")
        assert not app.screen.query(Button)
        assert "it is a folder" in said(app)
        assert opened(app).path == harbour


async def test_saving_twice_asks_nothing(noted: Path) -> None:
    async with running(noted) as (app, pilot):
        for title in ("Fog", "Tide"):
            app.change_project(replace(HARBOUR, title=title))
            await press(pilot, "s")
            assert read_project(noted).title == title


async def test_notes_that_cannot_be_kept_are_asked_about(harbour: Path) -> None:
    text = harbour.read_text()
    strip = '\n[papers.strip]  # cut off\nedge = "top"\nwidth = 1\n\n[[pieces]]'
    harbour.write_text(text.replace("\n[[pieces]]", strip, 1))
    before = read_project(harbour)
    async with running(harbour) as (app, pilot):
        app.change_project(replace(before, title="Fog"))
        await press(pilot, "s", "escape")
        assert read_project(harbour) == before
        await press(pilot, "s")
        app.screen.query_one("#save", Button).press()
        await press(pilot)
        assert read_project(harbour) == replace(before, title="Fog")
