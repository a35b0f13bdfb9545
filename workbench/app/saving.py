"""Saving the open project, and asking before changes of it would be lost."""

import re
import unicodedata
from pathlib import Path

from workbench.app.base import WorkbenchApp
from workbench.app.opening import remember
from workbench.app.widgets.questions import PathQuestion, Question
from workbench.store.errors import ProjectFileError
from workbench.store.project_file import (
    FileChangedError,
    is_still,
    loses_notes,
    read_project_file,
    write_project,
)


async def may_close(app: WorkbenchApp) -> bool:
    """Ask about changes that would be lost; True when nothing stands in the way."""
    if not (app.session and app.session.changed):
        app.autosave.drop()
        return True
    answer = await app.push_screen_wait(
        Question(
            "This project has changes that are not saved.",
            {"save": "Save them", "drop": "Leave without them", "stay": "Stay here"},
        )
    )
    if answer == "drop":
        app.autosave.drop()
    return await save(app) if answer == "save" else answer == "drop"


async def save(app: WorkbenchApp) -> bool:
    """Save the project in its file, or where the maker says; False when it was not saved."""
    session = app.session
    if session is None or session.path is None:
        return await save_as(app)
    try:
        changed = session.on_disk is not None and not is_still(session.path, session.on_disk)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return False
    if changed:
        return await _settle(app, session.path)
    try:
        return await _save_with_notes(app, session.path, session.on_disk)
    except FileChangedError:  # since it was looked at, by a window that was quicker
        return await _settle(app, session.path)


async def save_as(app: WorkbenchApp) -> bool:
    """Save the project where the maker says; False when it was not saved."""
    if app.session is None:
        return False
    there = app.session.path or Path.cwd() / file_name(app.session.project.title)
    path = await app.push_screen_wait(PathQuestion("Save the project as", there, "Save"))
    if path is None:
        return False
    path = path if path == app.session.path else _with_suffix(path)
    if path.is_file() and path != app.session.path:
        answers = {"keep": "Keep it", "replace": "Replace it"}
        asked = f"There is already a file {path}."
        if await app.push_screen_wait(Question(asked, answers)) != "replace":
            return False
    return await _save_with_notes(app, path)


async def _settle(app: WorkbenchApp, path: Path) -> bool:
    """Ask what to do about a file that another hand has changed since it was read here."""
    asked = f"{path.name} was changed by another program since it was read here."
    answers = {"elsewhere": "Save elsewhere", "theirs": "Read theirs", "mine": "Write over it"}
    answer = await app.push_screen_wait(Question(asked, answers))
    if answer == "mine":
        return await _save_with_notes(app, path)
    if answer == "elsewhere":
        return await save_as(app)
    if answer == "theirs":
        _read_again(app, path)
    return False


def _read_again(app: WorkbenchApp, path: Path) -> None:
    try:
        found = read_project_file(path)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return
    if app.session:
        app.change(lambda session: session.read_again(found))
        app.notify("Read again; undo gives back what was here.", markup=False)


async def _save_with_notes(app: WorkbenchApp, path: Path, expected: bytes | None = None) -> bool:
    """Save, but ask first where the maker's notes cannot be kept. Raises FileChangedError."""
    session = app.session
    if session and session.source and loses_notes(session.source, session.project):
        asked = "The notes (after a #) cannot be kept, as this file is laid out in its own way."
        answers = {"save": "Save without them", "elsewhere": "Save elsewhere"}
        answer = await app.push_screen_wait(Question(asked, answers))
        if answer == "elsewhere":
            return await save_as(app)
        if answer != "save":
            return False
    return save_in(app, path, expected)


def save_in(app: WorkbenchApp, path: Path, expected: bytes | None = None) -> bool:
    """Save the project at `path`; False when it cannot be.

    Raises:
        FileChangedError: when the file holds something else than `expected`.
    """
    if app.session is None:
        return False
    try:
        written = write_project(path, app.session.project, app.session.source, expected)
    except FileChangedError:
        raise
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return False
    app.session = app.session.saved_at(path, written)
    app.autosave.drop()
    remember(app, path, app.session.project.title)
    app.notify(f"Saved in {path}.", markup=False)
    return True


def _with_suffix(path: Path) -> Path:
    """As it is typed, where that is a folder or says what kind of file it is to be."""
    typed = path.is_dir() or re.fullmatch(r"\.\w+", path.suffix)
    return path if typed else path.with_name(f"{path.name}.toml")


def file_name(title: str) -> str:
    """A file name that every system takes, made of a project's title."""
    plain = unicodedata.normalize("NFKD", title.casefold()).encode("ascii", "ignore").decode()
    words = re.findall(r"[a-z0-9]+", plain)
    return "_".join(words[:8] or ["project"]) + ".toml"
