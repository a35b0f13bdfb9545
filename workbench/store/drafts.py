"""Changes that are not saved yet, kept in the workshop so that no power cut takes them."""

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from workbench.store.database import Workshop

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.store.project_file import ProjectFile


class Draft(NamedTuple):
    """A project with changes that are not saved.

    Attributes:
        key: tells it from other drafts.
        path: the project's file, None where it has none.
        title: of the project.
        text: the project as TOML, as it was left.
        base: what the file held, or the project was, before the changes.
        kept: when the draft was kept, UTC.
    """

    key: str
    path: Path | None
    title: str
    text: str
    base: bytes
    kept: datetime

    def project(self) -> "Project":
        """The project as it was left.

        Raises:
            ProjectFileError: when it cannot be read any more.
        """
        from workbench.store.load import project_from_text

        return project_from_text(self.text, self._name)

    def before(self) -> "ProjectFile":
        """The project before the changes.

        Raises:
            ProjectFileError: when it cannot be read any more.
        """
        from workbench.store.project_file import project_file

        return project_file(self.base, self._name)

    @property
    def _name(self) -> str:
        return f"unsaved changes of “{self.title}”"


def keep_draft(
    workshop: Workshop, key: str, path: Path | None, project: "Project", base: bytes
) -> None:
    """Keep a draft in place of the one called `key`, if there is one.

    Args:
        workshop: where to keep it.
        key: tells it from other drafts.
        path: the project's file, None where it has none.
        project: the project as it is now.
        base: what the file held, or the project was, before the changes.

    Raises:
        WorkshopError: when the workshop's file cannot be used.
    """
    from workbench.store.dump import project_text

    text, now = project_text(project), datetime.now(UTC).isoformat()
    with workshop.writing() as connection:
        connection.execute(
            "INSERT OR REPLACE INTO drafts VALUES (?, ?, ?, ?, ?, ?)",
            (key, path and os.path.realpath(path), project.title, text, base, now),
        )


def drop_draft(workshop: Workshop, key: str) -> None:
    """Delete the draft called `key`, if there is one.

    Raises:
        WorkshopError: when the workshop's file cannot be used.
    """
    with workshop.writing() as connection:
        connection.execute("DELETE FROM drafts WHERE key = ?", (key,))


def drafts(workshop: Workshop) -> tuple[Draft, ...]:
    """All drafts, the latest first.

    Raises:
        WorkshopError: when the workshop's file cannot be used.
    """
    with workshop.reading() as connection:
        rows = connection.execute(
            "SELECT key, path, title, project, base, kept FROM drafts ORDER BY kept DESC"
        )
        return tuple(
            Draft(key, path and Path(path), title, text, base, datetime.fromisoformat(kept))
            for key, path, title, text, base, kept in rows
        )
