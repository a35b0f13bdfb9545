"""Saving the open project, and asking before changes of it would be lost."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.app.screens.question import PathQuestion, Question
from workbench.store.faults import ProjectFileError
from workbench.store.project_file import write_project

if TYPE_CHECKING:
    from workbench.app.app import TrimtallyApp


async def may_close(app: "TrimtallyApp") -> bool:
    """Ask about changes that would be lost; True when nothing stands in the way."""
    if not (app.session and app.session.changed):
        return True
    answer = await app.push_screen_wait(
        Question(
            "This project has changes that are not saved.",
            {"save": "Save them", "drop": "Leave without them", "stay": "Stay here"},
        )
    )
    return await save(app) if answer == "save" else answer == "drop"


async def save(app: "TrimtallyApp") -> bool:
    """Save the project in its file, or where the maker says; False when it was not saved."""
    if app.session and app.session.path:
        return _save_in(app, app.session.path)
    return await save_as(app)


async def save_as(app: "TrimtallyApp") -> bool:
    """Save the project where the maker says; False when it was not saved."""
    if app.session is None:
        return False
    there = app.session.path or Path.cwd() / _file_name(app.session.project.title)
    path = await app.push_screen_wait(PathQuestion("Save the project as", there, "Save"))
    if path is None:
        return False
    if path.exists() and path != app.session.path:
        answers = {"replace": "Replace it", "keep": "Keep it"}
        asked = f"There is already a file {path}."
        if await app.push_screen_wait(Question(asked, answers)) != "replace":
            return False
    return _save_in(app, path)


def _save_in(app: "TrimtallyApp", path: Path) -> bool:
    if app.session is None:
        return False
    try:
        write_project(path, app.session.project)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return False
    app.session = app.session.saved_at(path)
    app.remember(path, app.session.project.title)
    app.notify(f"Saved in {path}.", markup=False)
    return True


def _file_name(title: str) -> str:
    """A file name that every system takes, made of a project's title."""
    words = re.findall(r"[a-z0-9]+", title.lower())
    return "_".join(words[:8] or ["project"]) + ".toml"
