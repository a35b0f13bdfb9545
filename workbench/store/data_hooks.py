"""Dataclasses as what JSON can hold, and back again, by the types that their fields declare.

A field is kept under its own name. Exact lengths, graduations and the ids of parts are kept as
texts: these are the hooks. Plain values (numbers, texts, choices, times) are checked by msgspec,
which takes no hooks for dataclasses and named tuples, as lengths and ids are.
"""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from functools import cache, lru_cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

import msgspec

from workbench.measure.length import Length, Unit
from workbench.measure.reading import read_exact
from workbench.measure.writing import Graduation, write_exact
from workbench.planning import PartId

T = TypeVar("T")
_Reader = Callable[[Any], Any]
# A plan of thousands of cards says the same few lengths over and over.
_length = lru_cache(maxsize=4096)(read_exact)


class DataError(ValueError):
    """Raised for data that are not of the type asked for; says what is wrong."""


def to_data(value: Any, unit: Unit) -> Any:
    """What JSON can hold of `value`.

    Args:
        value: A dataclass, a mapping, a tuple or a plain value, nested to any depth.
        unit: What its lengths are written in.
    """
    match value:
        case str() | int() | float() | None:
            return value
        case Length():
            return write_exact(value, unit)
        case PartId():
            return str(value)
        case Graduation():
            return write_exact(value.interval, value.unit)
        case tuple():
            return tuple([to_data(each, unit) for each in value])
        case Mapping():
            return {key: to_data(each, unit) for key, each in value.items()}
    return {field.name: to_data(getattr(value, field.name), unit) for field in fields(value)}


def from_data(kind: type[T], data: Any) -> T:
    """The value of type `kind` that `data` hold; keys that it has no field for are left aside.

    A field may hold a value of its type already.

    Raises:
        DataError: the data are of another type, or something is missing.
        MeasureError, CraftError: a length or a noun that cannot be.
    """
    reader: Callable[[Any], T] = _reader(cast(Hashable, kind))
    return reader(data)


def _graduation(text: str) -> Graduation:
    interval = read_exact(text)
    unit: Unit = "mm" if text.endswith("mm") else "in"
    return Graduation(unit, interval.number(unit))


def _part_id(text: str) -> PartId:
    try:
        return PartId.read(text)
    except ValueError as error:
        raise DataError(str(error)) from error


_TEXTS: Mapping[Any, _Reader] = {Length: _length, Graduation: _graduation, PartId: _part_id}


@cache
def _reader(kind: Any) -> _Reader:
    if kind in _TEXTS:
        return _of_text(_TEXTS[kind])
    if is_dataclass(kind):
        return _of_dataclass(kind)
    origin, within = get_origin(kind), get_args(kind)
    if origin is tuple:
        return _of_tuple(_reader(within[0]))
    if origin is not None and isinstance(origin, type) and issubclass(origin, Mapping):
        return _of_mapping(*map(_reader, within))
    if origin in (Union, UnionType):
        return _of_union(within)
    return _of_plain(kind)


def _of_text(read: Callable[[str], Any]) -> _Reader:
    def reader(data: Any) -> Any:
        if not isinstance(data, str):
            raise DataError(f"{data!r} is no text")
        return read(data)

    return reader


def _of_union(kinds: tuple[Any, ...]) -> _Reader:
    """For one kind or None; of several dataclasses, whoever reads them has to choose before."""
    some = [kind for kind in kinds if kind is not NoneType]
    ready: tuple[Any, ...] = tuple(k for k in kinds if k is NoneType or is_dataclass(k))
    read = _reader(some[0])

    def reader(data: Any) -> Any:
        if isinstance(data, ready):
            return data
        if len(some) > 1:
            raise DataError(f"{data!r} is none of several things")
        return read(data)

    return reader


def _of_plain(kind: Any) -> _Reader:
    def reader(data: Any) -> Any:
        try:
            return msgspec.convert(data, kind)
        except msgspec.ValidationError as error:
            raise DataError(str(error)) from error

    return reader


def _of_tuple(read: _Reader) -> _Reader:
    def reader(data: Any) -> Any:
        if not isinstance(data, (list, tuple)):
            raise DataError(f"{data!r} is no list")
        return tuple([read(each) for each in data])

    return reader


def _of_mapping(read_key: _Reader, read: _Reader) -> _Reader:
    def reader(data: Any) -> Any:
        if not isinstance(data, dict):
            raise DataError(f"{data!r} has no names")
        return {read_key(key): read(each) for key, each in data.items()}

    return reader


def _of_dataclass(kind: Any) -> _Reader:
    hints = get_type_hints(kind)
    readers = {field.name: _reader(hints[field.name]) for field in fields(kind)}
    needed = [
        field.name
        for field in fields(kind)
        if field.default is MISSING and field.default_factory is MISSING
    ]

    def reader(data: Any) -> Any:
        if isinstance(data, kind):
            return data
        if not isinstance(data, dict):
            raise DataError(f"{data!r} has no fields")
        for name in needed:
            if name not in data:
                raise DataError(f"{name} is missing")
        return kind(**{name: read(data[name]) for name, read in readers.items() if name in data})

    return reader
