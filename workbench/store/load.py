"""The text of a project file made into a project, or refused with one clear line."""

import tomllib
from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, TypeVar

import msgspec

from workbench.craft.card import ACROSS, UP, Card, Piece, Place, Rounding
from workbench.craft.errors import CraftError, checked_name
from workbench.craft.mixing import FixedCard, Mixing
from workbench.craft.paper import Back, Offcut, Paper, Size, Strip
from workbench.craft.project import Project
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.reading import read_number
from workbench.measure.weights import read_thickness, read_weight
from workbench.store.error_messages import Path, nearest, not_a_project, not_toml, place_of
from workbench.store.errors import ProjectFileError, shown
from workbench.store.schema import (
    BackTable,
    CardTable,
    FileLength,
    FileSize,
    MixingTable,
    OffcutTable,
    PaperTable,
    PieceTable,
    ProjectTable,
    RoundTable,
    StripTable,
)

_Table = TypeVar("_Table")
_Made = TypeVar("_Made")
_Word = TypeVar("_Word", bound=str)


def project_from_text(text: str, name: str) -> Project:
    """The project that `text` holds; errors call it `name`. Raises ProjectFileError."""
    data = _parsed(text, name)
    try:
        table = msgspec.convert(data, ProjectTable)
    except msgspec.ValidationError as error:
        raise not_a_project(error, data, name) from error
    try:
        return _project(table, _Spot(name, table.units, data))
    except CraftError as error:
        fault = error.fault
        raise ProjectFileError(f"{name}: {fault.place}", fault.wrong, fault.right) from error


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


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where in which file we are, so that an error can say so."""

    file: str
    unit: Unit
    data: Any
    path: Path = ()

    def at(self, *steps: str | int) -> "_Spot":
        return replace(self, path=(*self.path, *steps))

    def measured(self, read: Callable[[], _Made]) -> _Made:
        try:
            return read()
        except MeasureError as error:
            raise self.refusal(error.what, error.mend) from error

    def named(self, name: str) -> str:
        """`name`, if it can be one. Raises CraftError."""
        return checked_name(name, place_of(self.path, self.data))

    def refusal(self, what: str, mend: str) -> ProjectFileError:
        return ProjectFileError(f"{self.file}: {place_of(self.path, self.data)}", what, mend)


def _project(table: ProjectTable, spot: _Spot) -> Project:
    return Project(
        title=table.title,
        units=table.units,
        card=_card(table.card, spot.at("card")),
        papers=_each(_paper, table.papers, spot.at("papers")),
        offcuts=_each(_offcut, table.offcuts, spot.at("offcuts")),
        pieces=_each(_piece, table.pieces, spot.at("pieces")),
        mixing=_mixing(table.mixing),
    )


def _each(
    make: Callable[[_Table, _Spot], _Made], tables: tuple[_Table, ...], spot: _Spot
) -> tuple[_Made, ...]:
    return tuple(make(table, spot.at(number)) for number, table in enumerate(tables))


def _card(table: CardTable, spot: _Spot) -> Card:
    return Card(_size(table.size, spot), table.fold, table.paper, table.count)


def _paper(table: PaperTable, spot: _Spot) -> Paper:
    weight, thickness = table.weight, table.thickness
    if weight is not None:
        spot.at("weight").measured(lambda: read_weight(weight))
    if thickness is not None:
        spot.at("thickness").measured(lambda: read_thickness(thickness))
    return Paper(
        name=spot.at("name").named(table.name),
        kind=table.kind,
        size=_size(table.size, spot),
        sheets=table.sheets,
        print=table.print,
        colours=table.colours,
        run=table.run,
        weight=weight,
        thickness=thickness,
        strip=_strip(table.strip, spot.at("strip")) if table.strip else None,
        back=_back(table.back, spot.at("back")) if table.back else None,
    )


def _back(table: BackTable, spot: _Spot) -> Back:
    return Back(spot.at("name").named(table.name), table.print, table.colours, table.run)


def _strip(table: StripTable, spot: _Spot) -> Strip:
    return Strip(table.edge, _length(table.width, spot.at("width")))


def _offcut(table: OffcutTable, spot: _Spot) -> Offcut:
    size = _size(table.size, spot)
    try:
        return Offcut(table.paper, size, table.count)
    except CraftError as error:  # its paper may have several: which of them it is, is told here
        fault = error.fault
        spot = spot.at(fault.place.rpartition(", ")[2])
        raise spot.refusal(fault.wrong, fault.right) from error


def _piece(table: PieceTable, spot: _Spot) -> Piece:
    place = spot.at("place")
    return Piece(
        name=spot.at("name").named(table.name),
        size=_size(table.size, spot),
        papers=table.papers,
        place=Place(
            x=_where(table.place.x, ACROSS, place.at("x")),
            y=_where(table.place.y, UP, place.at("y")),
        ),
        rounding=_rounding(table.round, spot.at("round")) if table.round else None,
        per_card=table.per_card,
        needed=table.needed,
        on=table.on,
        spare=table.spare,
    )


def _mixing(table: MixingTable) -> Mixing:
    cards = tuple(FixedCard(card.number, card.shows) for card in table.cards)
    return Mixing(table.apart, table.together, cards, table.wish, table.deal)


def _rounding(table: RoundTable, spot: _Spot) -> Rounding:
    return Rounding(table.corners, _length(table.radius, spot.at("radius")))


def _where(value: FileLength, words: tuple[_Word, ...], spot: _Spot) -> _Word | Length:
    """A word for a place, or a length; letters alone are taken for a word."""
    for word in words:
        if value == word:
            return word
    if isinstance(value, str) and value.strip().isalpha():
        raise spot.refusal(f"{shown(value)} is no place", f"{nearest(value, words)}, or a length")
    return _length(value, spot)


def _size(values: FileSize, spot: _Spot) -> Size:
    width, height = (_length(value, spot.at("size", number)) for number, value in enumerate(values))
    return Size(width, height)


def _length(value: FileLength, spot: _Spot) -> Length:
    return spot.measured(lambda: read_number(value, spot.unit))
