"""Changes that are not saved yet, kept in the workshop so that no power cut takes them."""

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from workbench.craft.project import Project
from workbench.store.database import Workshop
from workbench.store.dump import project_text
from workbench.store.load import project_from_text
from workbench.store.project_file import ProjectFile, project_file


class Draft(NamedTuple):
    """A project as it was left; `path` is its file, None where it had none.

    `base` is what that file held, or what the project was, before its changes.
    """

    key: str
    path: Path | None
    title: str
    text: str
    base: bytes
    kept: datetime

    def project(self) -> Project:
        """Raises ProjectFileError when it cannot be read any more."""
        return project_from_text(self.text, self._name)

    def before(self) -> ProjectFile:
        """What was changed. Raises ProjectFileError when it cannot be read any more."""
        return project_file(self.base, self._name)

    @property
    def _name(self) -> str:
        return f"unsaved changes of “{self.title}”"


def keep_draft(
    workshop: Workshop, key: str, path: Path | None, project: Project, base: bytes
) -> None:
    """Keep it in place of the draft called `key`."""
    text, now = project_text(project), datetime.now(UTC).isoformat()
    with workshop.writing() as connection:
        connection.execute(
            "INSERT OR REPLACE INTO drafts VALUES (?, ?, ?, ?, ?, ?)",
            (key, path and os.path.realpath(path), project.title, text, base, now),
        )


def drop_draft(workshop: Workshop, key: str) -> None:
    with workshop.writing() as connection:
        connection.execute("DELETE FROM drafts WHERE key = ?", (key,))


def drafts(workshop: Workshop) -> tuple[Draft, ...]:
    """All drafts, the latest first."""
    with workshop.reading() as connection:
        rows = connection.execute(
            "SELECT key, path, title, project, base, kept FROM drafts ORDER BY kept DESC"
        )
        return tuple(
            Draft(key, path and Path(path), title, text, base, datetime.fromisoformat(kept))
            for key, path, title, text, base, kept in rows
        )
