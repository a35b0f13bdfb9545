"""Project files on disk: read whole or written whole, or else refused with one clear line."""

from dataclasses import dataclass
from pathlib import Path

from workbench.craft.project import Project
from workbench.store.dump import project_text
from workbench.store.errors import ProjectFileError, reason, visible
from workbench.store.load import project_from_text
from workbench.store.ordinary import OddFileError, read_ordinary
from workbench.store.places import PlaceError, put
from workbench.store.replacement import ChangedError
from workbench.store.toml_edit import has_notes, with_changes

MOST_MB = 1


class FileChangedError(ProjectFileError):
    """Raised when a file is not what it was when it was read; nothing was written."""


@dataclass(frozen=True, slots=True)
class ProjectFile:
    """A project and the very bytes of its file."""

    project: Project
    content: bytes


def read_project(path: Path) -> Project:
    """The project that the file at `path` holds.

    Raises:
        ProjectFileError: when it cannot be read, or holds no project.
    """
    return read_project_file(path).project


def read_project_file(path: Path) -> ProjectFile:
    """The project that the file at `path` holds, with the file's bytes.

    Raises:
        ProjectFileError: when it cannot be read, or holds no project.
    """
    name = visible(str(path))
    return project_file(_content(path, name), name)


def project_file(content: bytes, name: str) -> ProjectFile:
    """The project in the bytes of a file that errors call `name`.

    Raises:
        ProjectFileError: when they hold no project.
    """
    return ProjectFile(project_from_text(_decoded(content, name), name), content)


def is_still(path: Path, content: bytes) -> bool:
    """Whether the file at `path` still holds `content`, or is gone.

    Raises:
        ProjectFileError: when it cannot be read.
    """
    return not path.exists() or _content(path, visible(str(path))) == content


def loses_notes(source: ProjectFile, project: Project) -> bool:
    """Whether the maker's own notes in `source` would be lost when `project` takes its place."""
    text = _decoded(source.content, "")
    if project == source.project or not has_notes(text):
        return False
    return with_changes(text, source.project, project) is None


def write_project(
    path: Path,
    project: Project,
    source: ProjectFile | None = None,
    expected: bytes | None = None,
) -> ProjectFile:
    """Write a project to a file: all of it or, when anything fails, nothing.

    Args:
        path: the file, which is replaced in one move; a link is followed.
        project: what to write.
        expected: what the file must still hold, unless it is gone; None for whatever it holds.
        source: the file that the project was read from. Lines whose meaning is the same stay as
            they are written there, with the maker's notes; None writes everything anew.

    Returns:
        The project with the bytes that were written.

    Raises:
        FileChangedError: when it holds something else than `expected`; nothing was written.
        ProjectFileError: when it cannot be written, or would not be the same when read back.
    """
    name = visible(str(path))
    content = _content_of(project, source)
    if project_from_text(_decoded(content, name), name) != project:
        raise ProjectFileError(
            name, "the project would not be the same when read back", "nothing was written"
        )
    try:
        put(path, content, expected)
    except ChangedError as error:
        raise FileChangedError(
            name, "another program has changed it in the meantime", "look at it, then save again"
        ) from error
    except PlaceError as error:
        raise ProjectFileError(name, error.what, error.mend) from error
    return ProjectFile(project, content)


def _content_of(project: Project, source: ProjectFile | None) -> bytes:
    if source is None:
        return project_text(project).encode()
    if project == source.project:
        return source.content
    text = with_changes(_decoded(source.content, ""), source.project, project)
    return (text or project_text(project)).encode()


def _content(path: Path, name: str) -> bytes:
    try:
        return read_ordinary(path, MOST_MB)
    except OddFileError as error:
        right = "a project file is a short text; name one of those"
        raise ProjectFileError(name, str(error), right) from error
    except FileNotFoundError as error:
        raise ProjectFileError(
            name, "there is no such file", "check the name and the folder"
        ) from error
    except (OSError, ValueError) as error:
        raise ProjectFileError(
            name,
            f"it cannot be read ({reason(error)})",
            "check the name, and that you may read the file",
        ) from error


def _decoded(content: bytes, name: str) -> str:
    if content.count(0) * 3 > len(content):  # UTF-16 of most languages: half of its bytes are 0
        raise _no_utf_8(name, content.index(0))
    try:
        # A byte order mark is how some editors begin UTF-8; it means nothing.
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _no_utf_8(name, error.start) from error


def _no_utf_8(name: str, at: int) -> ProjectFileError:
    return ProjectFileError(
        f"{name}: byte {at + 1}",
        "it is not UTF-8 text",
        "save it as UTF-8 in a text editor, or name a project file",
    )
