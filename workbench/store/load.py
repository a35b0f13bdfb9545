"""The TOML text of a project file read as a project, or else refused with one clear line."""

import tomllib
from bisect import bisect_left
from dataclasses import replace
from typing import Any

from workbench.craft.errors import CraftError
from workbench.craft.project import Project
from workbench.store.codecs import Spot
from workbench.store.error_messages import not_toml
from workbench.store.errors import ProjectFileError
from workbench.store.schema import PROJECT


def project_from_text(text: str, name: str) -> Project:
    """Read the project that `text`, a TOML file, holds.

    Args:
        text: all of the file.
        name: what errors call the file.

    Raises:
        ProjectFileError: where it is not TOML, has keys that are not known or lacks some, holds
            values of a wrong type, or what no project can be.
    """
    data = _parsed(text, name)
    spot = Spot(name, data)
    try:
        PROJECT.check_names(data, spot)
        unit = PROJECT["units"].read(data, spot) if "units" in data else spot.unit
        project: Project = PROJECT.read(data, replace(spot, unit=unit))
    except CraftError as error:
        raise ProjectFileError(f"{name}: {error.place}", error.wrong, error.right) from error
    return project


def _parsed(text: str, name: str) -> dict[str, Any]:
    if not text.strip():
        raise ProjectFileError(
            name, "it is empty", 'start it with title = "..." and units = "in" or "mm"'
        )
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise not_toml(error, text, name) from error
    except RecursionError as error:
        raise ProjectFileError(
            f"{name}: line {_line_of(RecursionError, text)}",
            "its lists are nested too deeply",
            "a list of lists is never needed",
        ) from error
    except ValueError as error:  # a number with thousands of digits, or a day that never was
        raise ProjectFileError(
            f"{name}: line {_line_of(ValueError, text)}",
            "it holds a number or a date that cannot be",
            "write numbers as in 9 or 5.25",
        ) from error


def _line_of(kind: type[Exception], text: str) -> int:
    """The line that makes reading `text` end with an error of `kind`, which names no place."""
    lines = text.split("\n")

    def reached(count: int) -> bool:
        try:
            tomllib.loads("\n".join(lines[:count]))
        except tomllib.TOMLDecodeError:
            return False
        except kind:
            return True
        return False

    return bisect_left(range(len(lines)), True, lo=1, key=reached)
