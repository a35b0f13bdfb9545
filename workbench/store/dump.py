"""A project as the text of its file, laid out the way a maker would write it by hand."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import tomli_w

from workbench.craft.card import FRONT, Card, Piece, Place
from workbench.craft.mixing import Mixing
from workbench.craft.paper import SOLID, Back, Offcut, Paper, Size, Strip
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.measure.writing import write_file


class Block(NamedTuple):
    """What stands below one heading: by key, the line that says it. `name` tells it from others."""

    heading: str
    name: str
    lines: Mapping[str, str]

    @property
    def text(self) -> str:
        return "".join(f"{line}\n" for line in (self.heading, *self.lines.values()) if line)


def project_text(project: Project) -> str:
    """The TOML text of `project`. What need not be said is left out."""
    return "\n".join(block.text for block in project_blocks(project))


def project_blocks(project: Project) -> Iterator[Block]:
    """The text of `project` in its parts, in their order."""
    unit = project.units
    yield _block("", "", {"title": project.title, "units": unit})
    yield _block("[card]", "", _card(project.card, unit))
    for paper in project.papers:
        yield _block("[[papers]]", paper.name, _paper(paper, unit))
    for offcut in project.offcuts:
        yield _block("[[offcuts]]", offcut.paper, _offcut(offcut, unit))
    for piece in project.pieces:
        yield _block("[[pieces]]", piece.name, _piece(piece, unit))
    yield from _mixing(project.mixing)


def _card(card: Card, unit: Unit) -> dict[str, Any]:
    return {
        "size": _size(card.size, unit),
        "fold": card.fold,
        "paper": card.paper,
        "count": card.count,
    }


def _paper(paper: Paper, unit: Unit) -> dict[str, Any]:
    return {
        "name": paper.name,
        "kind": paper.kind,
        "size": _size(paper.size, unit),
        "sheets": paper.sheets,
        "print": _unless(paper.print, SOLID),
        "colours": _unless(list(paper.colours), []),
        "run": _unless(paper.run, "none"),
        "weight": paper.weight,
        "thickness": paper.thickness,
        "strip": paper.strip and _strip(paper.strip, unit),
        "back": paper.back and _back(paper.back),
    }


def _back(back: Back) -> dict[str, Any]:
    return {
        "name": back.name,
        "print": _unless(back.print, SOLID),
        "colours": _unless(list(back.colours), []),
        "run": _unless(back.run, "none"),
    }


def _strip(strip: Strip, unit: Unit) -> dict[str, Any]:
    return {"edge": strip.edge, "width": write_file(strip.width, unit)}


def _offcut(offcut: Offcut, unit: Unit) -> dict[str, Any]:
    return {
        "paper": offcut.paper,
        "size": _size(offcut.size, unit),
        "count": _unless(offcut.count, 1),
    }


def _piece(piece: Piece, unit: Unit) -> dict[str, Any]:
    rounding = piece.rounding
    return {
        "name": piece.name,
        "size": _size(piece.size, unit),
        "from": list(piece.papers),
        "place": None if piece.place == Place() else _place(piece.place, unit),
        "round": rounding
        and {"corners": list(rounding.corners), "radius": write_file(rounding.radius, unit)},
        "per_card": _unless(piece.per_card, 1),
        "needed": _unless(piece.needed, True),
        "on": _unless(piece.on, FRONT),
        "spare": _unless(piece.spare, 0),
    }


def _mixing(mixing: Mixing) -> Iterator[Block]:
    asked = {
        "wish": _unless(mixing.wish, "varied"),
        "deal": _unless(mixing.deal, 0),
        "apart": _unless(mixing.apart, ()),
        "together": _unless(mixing.together, ()),
    }
    if any(value is not None for value in asked.values()):
        yield _block("[mixing]", "", asked)
    for card in mixing.cards:
        shown = {"number": card.number, "shows": card.shows}
        yield _block("[[mixing.cards]]", str(card.number), shown)


def _place(place: Place, unit: Unit) -> dict[str, Any]:
    return {
        axis: write_file(where, unit) if isinstance(where, Length) else where
        for axis, where in (("x", place.x), ("y", place.y))
    }


def _size(size: Size, unit: Unit) -> list[str | int]:
    return [write_file(size.width, unit), write_file(size.height, unit)]


def _unless(value: Any, usual: Any) -> Any:
    return None if value == usual else value


def _block(heading: str, name: str, table: Mapping[str, Any]) -> Block:
    said = {key: value for key, value in table.items() if value is not None}
    return Block(heading, name, {key: f"{key} = {_literal(said[key])}" for key in said})


def _literal(value: Any) -> str:
    # tomli_w breaks every list over several lines; a size reads better as [4, "5 1/4"].
    if isinstance(value, Mapping):
        said = (f"{_key(key)} = {_literal(one)}" for key, one in value.items() if one is not None)
        return "{ " + ", ".join(said) + " }"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(map(_literal, value)) + "]"
    return tomli_w.dumps({"value": value}).removeprefix("value = ").removesuffix("\n")


def _key(name: str) -> str:
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else _literal(name)
