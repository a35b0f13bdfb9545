"""A project written as the TOML text of its file, laid out the way a maker would by hand."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import tomli_w

from workbench.craft.project import Project
from workbench.measure.length import Unit
from workbench.store.schema import PROJECT
from workbench.store.tables import Table


class Block(NamedTuple):
    """One heading of a project file and what stands below it.

    Attributes:
        heading: "[card]", "[[papers]]" and so on, "" for the top of the file.
        name: tells it from others under the same heading, "" where there is only one.
        lines: by key, the line `key = value`, without its end.
    """

    heading: str
    name: str
    lines: Mapping[str, str]

    @property
    def text(self) -> str:
        """The heading and its lines, each with its end."""
        return "".join(f"{line}\n" for line in (self.heading, *self.lines.values()) if line)


def project_text(project: Project) -> str:
    """The TOML text of `project`, which `load` reads back the same; usual values are left out."""
    return "\n".join(block.text for block in project_blocks(project))


def project_blocks(project: Project) -> Iterator[Block]:
    """The text of `project` by headings, in the order in which they are written."""
    yield from _blocks("", "", PROJECT, project, project.units)


def _blocks(heading: str, name: str, table: Table, noun: Any, unit: Unit) -> Iterator[Block]:
    lines = table.write(noun, unit)
    if lines:
        yield _block(heading, name, lines)
    for below, inner, each in table.below(noun):
        listed = below.startswith("[[")
        yield from _blocks(below, inner.name_of(each) if listed else "", inner, each, unit)


def _block(heading: str, name: str, table: Mapping[str, Any]) -> Block:
    return Block(heading, name, {key: f"{key} = {_literal(value)}" for key, value in table.items()})


def _literal(value: Any) -> str:
    # tomli_w breaks every list over several lines; a size reads better as [4, "5 1/4"].
    if isinstance(value, Mapping):
        said = (f"{_key(key)} = {_literal(one)}" for key, one in value.items())
        return "{ " + ", ".join(said) + " }"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(map(_literal, value)) + "]"
    return tomli_w.dumps({"value": value}).removeprefix("value = ").removesuffix("\n")


def _key(name: str) -> str:
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else _literal(name)
