"""What is not saved outlives the window: kept shortly after a change, and offered again."""

import random
import sqlite3
import threading
import time
from contextlib import closing
from dataclasses import replace
from os import environ
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Button

from tests.app.bench import on_screen
from tests.app.running import SMALL, opened, press, running, said, settled, until
from tests.app.terminal import PATIENCE_SECONDS, Terminal
from tests.making.plans import HARBOUR
from workbench.app import autosave as keeping
from workbench.app.app import TrimtallyApp
from workbench.app.opening import begin_project, open_file, open_sample
from workbench.app.samples import samples
from workbench.app.saving import save_in
from workbench.app.widgets.questions import Question
from workbench.store.database import Workshop
from workbench.store.drafts import Draft, drafts, keep_draft
from workbench.store.errors import WorkshopError
from workbench.store.project_file import read_project, write_project

FOG = replace(HARBOUR, title="Fog")
# On a machine that is busy; by itself it takes a third of that.
KEPT_WITHIN_SECONDS = 2
WAITED_SECONDS = keeping.AFTER_SECONDS
KILLS = int(environ.get("KILLS", "3"))


@pytest.fixture(autouse=True)
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keeping, "AFTER_SECONDS", 0.01)


def kept() -> tuple[Draft, ...]:
    return drafts(Workshop.open())


async def changed_and_lost(path: Path) -> None:
    """Change the title in a window that then goes without a word, as in a power cut."""
    async with running(path) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: [draft.title for draft in kept()] == ["Fog"])


async def answer(pilot: Pilot[None], name: str) -> None:
    await until(pilot, lambda: isinstance(pilot.app.screen, Question))
    pilot.app.screen.query_one(f"#{name}", Button).press()
    await settled(pilot)


async def test_a_long_title_is_asked_about_in_full(harbour: Path) -> None:
    """On the narrowest screen, where the words take more than one row."""
    long = replace(HARBOUR, title="Thank-you notes for the harbour regatta and forty helpers")
    async with running(harbour) as (app, pilot):
        app.change_project(long)
        await until(pilot, lambda: len(kept()) == 1)
    async with running(harbour, size=(60, 20)) as (_, pilot):
        await until(pilot, lambda: isinstance(pilot.app.screen, Question))
        seen = " ".join(on_screen(pilot).replace("│", " ").split())
        assert f"You had changes of “{long.title}” that were not saved (" in seen


async def test_changes_are_offered_when_the_file_is_opened_again(harbour: Path) -> None:
    before = harbour.read_bytes()
    await changed_and_lost(harbour)
    assert harbour.read_bytes() == before
    async with running(harbour) as (app, pilot):
        assert "You had changes of “Fog” that were not saved" in on_screen(pilot)
        await answer(pilot, "on")
        assert opened(app).project == FOG
        assert opened(app).changed
        assert harbour.read_bytes() == before
        await press(pilot, "z")
        assert opened(app).project == HARBOUR
        await press(pilot, "y", "s")
        assert read_project(harbour) == FOG
        assert kept() == ()


async def test_two_windows_on_one_file_keep_their_changes_apart(harbour: Path) -> None:
    async with running(harbour) as (app, pilot), running(harbour) as (other, _):
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
        other.change_project(replace(HARBOUR, title="Mist"))
        await until(pilot, lambda: len(kept()) == 2)
    async with running(harbour) as (app, pilot):
        await answer(pilot, "drop")
        await until(pilot, lambda: isinstance(app.screen, Question))
        assert [draft.title for draft in kept()] == ["Fog"]
        await answer(pilot, "on")
        assert opened(app).project == FOG
        await until(pilot, lambda: [draft.title for draft in kept()] == ["Fog"])


async def test_changes_that_are_dropped_are_gone(harbour: Path) -> None:
    await changed_and_lost(harbour)
    async with running(harbour) as (app, pilot):
        await answer(pilot, "drop")
        assert opened(app).project == HARBOUR
        assert not opened(app).changed
    assert kept() == ()


async def test_without_an_answer_nothing_is_opened_nor_dropped(harbour: Path) -> None:
    await changed_and_lost(harbour)
    async with running(harbour) as (app, pilot):
        await press(pilot, "escape")
        assert app.session is None
    assert [draft.title for draft in kept()] == ["Fog"]


async def test_they_are_offered_on_the_start_page_even_when_the_file_is_gone(
    harbour: Path,
) -> None:
    await changed_and_lost(harbour)
    harbour.unlink()
    async with running() as (_, pilot):
        await until(pilot, lambda: "Not saved" in on_screen(pilot))
        assert "changes of" in on_screen(pilot)
        await press(pilot, "enter")
        await answer(pilot, "on")
        await press(pilot, "s")
        assert read_project(harbour) == FOG
        assert kept() == ()


async def test_they_can_be_dropped_on_the_start_page(harbour: Path) -> None:
    await changed_and_lost(harbour)
    async with running() as (_, pilot):
        await until(pilot, lambda: "Not saved" in on_screen(pilot))
        await press(pilot, "enter")
        await answer(pilot, "drop")
        await until(pilot, lambda: "Not saved" not in on_screen(pilot))
    assert kept() == ()


async def test_another_hand_that_changed_the_file_meanwhile_is_still_asked_about(
    harbour: Path,
) -> None:
    await changed_and_lost(harbour)
    theirs = replace(HARBOUR, title="As someone else has it")
    write_project(harbour, theirs)
    async with running(harbour) as (_, pilot):
        await answer(pilot, "on")
        await press(pilot, "s")
        assert "was changed by another program" in on_screen(pilot)
        assert read_project(harbour) == theirs
        await answer(pilot, "mine")
        assert read_project(harbour) == FOG


async def test_notes_in_the_file_outlive_the_draft(harbour: Path) -> None:
    note = b"# the tide comes in on the left\n"
    harbour.write_bytes(note + harbour.read_bytes())
    await changed_and_lost(harbour)
    async with running(harbour) as (_, pilot):
        await answer(pilot, "on")
        await press(pilot, "s")
    assert harbour.read_bytes().startswith(note)


@pytest.mark.parametrize("of_sample", [False, True])
async def test_a_project_without_a_file_has_a_draft_too(of_sample: bool) -> None:
    async with running() as (app, pilot):
        if of_sample:
            open_sample(app, samples()[0].path)
        else:
            begin_project(app, HARBOUR)
        await settled(pilot)
        app.change_project(replace(opened(app).project, title="Fog"))
        await until(pilot, lambda: len(kept()) == 1)
    async with running() as (app, pilot):
        await until(pilot, lambda: "Not saved" in on_screen(pilot))
        await press(pilot, "enter")
        await answer(pilot, "on")
        assert (opened(app).project.title, opened(app).path) == ("Fog", None)
        assert opened(app).changed
        app.change_project(replace(opened(app).project, title="Mist"))
        await until(pilot, lambda: [draft.title for draft in kept()] == ["Mist"])


async def test_taking_all_changes_back_takes_the_draft_away(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
        await press(pilot, "z")
        await until(pilot, lambda: kept() == ())


async def test_changes_taken_back_while_they_are_being_written_leave_no_draft(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    writing, may_end = threading.Event(), threading.Event()

    def slowly(*given: Any) -> None:
        writing.set()
        may_end.wait(PATIENCE_SECONDS)
        keep_draft(*given)

    monkeypatch.setattr("workbench.store.drafts.keep_draft", slowly)
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, writing.is_set)
        await press(pilot, "z")
        may_end.set()
        await app.workers.wait_for_complete()
        await until(pilot, lambda: kept() == ())


async def test_changes_of_a_file_saved_through_a_link_are_offered_when_it_is_opened(
    harbour: Path, tmp_path: Path
) -> None:
    (tmp_path / "cards").symlink_to(harbour.parent)
    async with running(harbour) as (app, pilot):
        assert save_in(app, tmp_path / "cards" / harbour.name)
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
    async with running(harbour) as (app, pilot):
        await answer(pilot, "on")
        assert opened(app).project == FOG


async def test_leaving_at_once_when_all_is_taken_back_leaves_no_draft(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
        monkeypatch.setattr(keeping, "AFTER_SECONDS", 3600)
        await press(pilot, "z", "q")
        await until(pilot, lambda: kept() == ())


@pytest.mark.parametrize("key", ["q", "0"])
async def test_leaving_without_the_changes_takes_the_draft_away(harbour: Path, key: str) -> None:
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
        await press(pilot, key)
        await answer(pilot, "drop")
        await settled(pilot)
    assert kept() == ()


async def test_saving_elsewhere_takes_the_draft_away(harbour: Path, tmp_path: Path) -> None:
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: len(kept()) == 1)
        app.change_project(replace(FOG, title="Mist"))
        assert save_in(app, tmp_path / "other.toml")
        assert kept() == ()
        await pilot.pause(0.1)
    assert kept() == ()


async def test_a_draft_that_cannot_be_written_is_said_so(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise WorkshopError("workshop", "it cannot be used (full)", "make room on the disk")

    monkeypatch.setattr("workbench.store.drafts.keep_draft", refuse)
    async with running(harbour) as (app, pilot):
        app.change_project(FOG)
        await until(pilot, lambda: "make room on the disk" in said(app))
        assert opened(app).project == FOG


async def test_a_file_without_unsaved_changes_asks_nothing(harbour: Path, tmp_path: Path) -> None:
    await changed_and_lost(harbour)
    other = tmp_path / "other.toml"
    write_project(other, HARBOUR)
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await settled(pilot)
        open_file(app, other)
        await settled(pilot)
        assert opened(app).project == HARBOUR


async def test_what_was_changed_a_moment_before_the_end_is_kept_too(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(keeping, "AFTER_SECONDS", 3600)
    async with running(harbour) as (app, _):
        app.change_project(FOG)
        assert kept() == ()
    assert [draft.title for draft in kept()] == ["Fog"]


def test_killed_after_a_change_it_offers_that_again(harbour: Path, workshop_folder: Path) -> None:
    """A real process in a pseudo-terminal, and SIGKILL."""
    before = harbour.read_bytes()
    with Terminal(workshop_folder, str(harbour)) as app:
        app.wait_for("2 Pieces")
        app.press("\x1b[B")  # the arrow down: from the card to its first piece
        app.press("d")
        end = time.monotonic() + PATIENCE_SECONDS
        while not (workshop_folder.exists() and kept()) and time.monotonic() < end:
            app.look(0.05)
        app.kill()
    (draft,) = kept()
    assert len(draft.project().pieces) == len(HARBOUR.pieces) + 1
    assert harbour.read_bytes() == before
    with Terminal(workshop_folder, str(harbour)) as app:
        app.wait_for("that were not saved", "Go on with them")
        app.press("\r")
        app.wait_for("2 Pieces")
        app.press("s")
        app.wait_for("Saved in")
    assert read_project(harbour) == draft.project()
    assert kept() == ()


def test_whenever_the_power_goes_the_file_is_whole_and_older_changes_are_kept(
    harbour: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(keeping, "AFTER_SECONDS", WAITED_SECONDS)
    chance, before = random.Random(14), harbour.read_bytes()
    for cut in range(KILLS):
        home = tmp_path / str(cut)
        pressed: list[float] = []
        with Terminal(home, str(harbour), forked=True) as app:
            app.wait_for("2 Pieces")
            app.press("\x1b[B")
            end = time.monotonic() + chance.uniform(0, 4)
            while time.monotonic() < end:
                app.press("d")
                pressed.append(time.monotonic())
                app.look(chance.uniform(0, 1))
            app.kill()
        found = drafts(Workshop.open(home))
        copies = len(found[0].project().pieces) - len(HARBOUR.pieces) if found else 0
        old = sum(end - moment > KEPT_WITHIN_SECONDS for moment in pressed)
        assert old <= copies <= len(pressed)
        assert harbour.read_bytes() == before
        with closing(sqlite3.connect(home / "workshop.sqlite")) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
