"""Project files on disk: read whole, or written whole, or refused with one clear line."""

import os
import secrets
from errno import EACCES
from pathlib import Path
from stat import S_IWGRP, S_IWOTH, S_IWUSR

from workbench.craft.project import Project
from workbench.store.faults import ProjectFileError, visible
from workbench.store.project_reading import project_from_text
from workbench.store.project_writing import project_text

LARGEST = 1_000_000
_WRITABLE = S_IWUSR | S_IWGRP | S_IWOTH


def read_project(path: Path) -> Project:
    """The project that the file at `path` holds. Raises ProjectFileError."""
    name = visible(str(path))
    return project_from_text(_decoded(_content(path, name), name), name)


def write_project(path: Path, project: Project) -> None:
    """Write `project` to `path`: all of it or, when anything fails, nothing.

    Raises ProjectFileError, also for a project that would not be the same when read back.
    """
    name = visible(str(path))
    text = project_text(project)
    if project_from_text(text, name) != project:
        raise ProjectFileError(
            name, "the project would not be the same when read back", "nothing was written"
        )
    try:
        _replace(Path(os.path.realpath(path)), text)
    except (OSError, ValueError) as error:
        raise ProjectFileError(
            name, f"it cannot be written ({_why(error)})", "choose another place to save it"
        ) from error


def _content(path: Path, name: str) -> bytes:
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except FileNotFoundError as error:
        raise ProjectFileError(
            name, "there is no such file", "check the name and the folder"
        ) from error
    except IsADirectoryError as error:
        raise ProjectFileError(name, "it is a folder", "name a project file inside it") from error
    except (OSError, ValueError) as error:
        raise ProjectFileError(
            name,
            f"it cannot be read ({_why(error)})",
            "check the name, and that you may read the file",
        ) from error
    if len(content) > LARGEST:
        raise ProjectFileError(
            name, "it is larger than 1 MB", "a project file is a short text; name one of those"
        )
    return content


def _why(error: OSError | ValueError) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _decoded(content: bytes, name: str) -> str:
    try:
        # A byte order mark is how some editors begin UTF-8; it means nothing.
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise ProjectFileError(
            f"{name}: byte {error.start + 1}",
            "it is not UTF-8 text",
            "save it as UTF-8 in a text editor, or name a project file",
        ) from error


def _replace(path: Path, text: str) -> None:
    """Put `text` at `path` in one move, kept on disk before and after it."""
    # Nothing else would ask whether the old file, which is moved over, may be written.
    if path.exists() and not path.stat().st_mode & _WRITABLE:
        raise PermissionError(EACCES, "it is marked read-only")
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with draft.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            draft.chmod(path.stat().st_mode)
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    _keep_folder(path.parent)


def _keep_folder(folder: Path) -> None:
    if os.name == "nt":  # folders cannot be opened there, nor need they be
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
