"""The TOML text of a project file read as a project, or else refused with one clear line."""

import tomllib
from dataclasses import replace
from typing import Any

from workbench.craft.errors import CraftError
from workbench.craft.project import Project
from workbench.store.codecs import Spot
from workbench.store.error_messages import not_toml
from workbench.store.errors import ProjectFileError
from workbench.store.schema import PROJECT
from workbench.store.toml_bounds import check_bounds


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
    check_bounds(text, name)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise not_toml(error, text, name) from error
