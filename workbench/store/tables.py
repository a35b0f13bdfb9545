"""A table of the project file as a dataclass of the craft, by the list of its keys."""

import types
from collections import abc
from collections.abc import Iterator
from dataclasses import MISSING, Field, dataclass, fields
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from workbench.craft.errors import CraftError
from workbench.craft.paper import Size
from workbench.measure.length import Length, Unit
from workbench.store.codecs import (
    LENGTH,
    SIZE,
    TEXT,
    TRUTH,
    WHOLE,
    Codec,
    Fixed,
    Listed,
    Named,
    Spot,
    Word,
    WordOrLength,
)
from workbench.store.error_messages import unknown_key


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table: how a maker writes it, and which field of the dataclass it fills.

    Attributes:
        name: the key as the file says it.
        example: a line to copy, shown where the key is missing or holds the wrong kind of thing.
        field: the dataclass's field, where it has another name than the key.
        codec: how to read and write the value, where the field's type does not tell.
        always: whether it is written even where it holds what it would hold unsaid.
        heading: for tables that stand under headings of their own, "[card]" or "[[papers]]".
    """

    name: str
    example: str
    field: str = ""
    codec: Codec | None = None
    always: bool = False
    heading: str = ""


def headed(heading: str) -> Key:
    """The key of tables that stand under `heading`, "[card]" or "[[papers]]"."""
    name = heading.strip("[]").rpartition(".")[2]
    return Key(name, f"a table headed {heading}", heading=heading)


@dataclass(frozen=True, slots=True)
class BoundKey:
    """A key bound to its field; `default` is what the field holds unsaid, MISSING if it must be."""

    key: Key
    field: str
    codec: Codec
    default: Any

    @property
    def table(self) -> "Table | None":
        """The table that stands under the key's own heading, if it has one."""
        inner = self.codec.each if isinstance(self.codec, Listed) else self.codec
        return inner if self.key.heading and isinstance(inner, Table) else None

    def read(self, table: Any, spot: Spot) -> Any:
        """What `table`, which has the key, holds there. Raises ProjectFileError, CraftError."""
        return self.codec.read(table[self.key.name], spot.at(self.key.name, self.key.example))

    def is_said(self, value: Any) -> bool:
        """Whether the file need say that the field holds `value`."""
        return self.key.always or (value is not None and value != self.default)


class Table:
    """The codec of a dataclass `made`, whose `keys` are in the order in which they are written.

    A key whose field has a default may be left out, and is where it holds that. Where `numbered`,
    errors of the dataclass are told at the table's number in its list, as for things that have no
    names of their own.
    """

    def __init__(self, made: type, *keys: Key, numbered: bool = False) -> None:
        self.made = made
        self.numbered = numbered
        types_of = get_type_hints(made)
        fields_of = {field.name: field for field in fields(made)}
        self.keys = tuple(
            BoundKey(
                key,
                field := key.field or key.name,
                key.codec or codec_of(types_of[field]),
                _default(fields_of[field]),
            )
            for key in keys
        )
        self.names = tuple(key.name for key in keys)
        _TABLES[made] = self

    def __getitem__(self, name: str) -> BoundKey:
        """The key of that name. Raises KeyError."""
        return {one.key.name: one for one in self.keys}[name]

    def check_names(self, value: Any, spot: Spot) -> None:
        """Refuse what is no table or has a key that is not known. Raises ProjectFileError."""
        for name in spot.checked(value, dict):
            if name not in self.names:
                raise spot.error(*unknown_key(name, self.names))

    def read(self, value: Any, spot: Spot) -> Any:
        """The dataclass that the table holds. Raises ProjectFileError, CraftError."""
        self.check_names(value, spot)
        said = {one.field: one.read(value, spot) for one in self.keys if one.key.name in value}
        for one in self.keys:
            if one.field not in said and one.default is MISSING:
                raise spot.at(one.key.name).error("it is missing", f"add {one.key.example}")
        try:
            return self.made(**said)
        except CraftError as error:
            if not self.numbered:
                raise
            spot = spot.at(error.place.rpartition(", ")[2])
            raise spot.error(error.wrong, error.right) from error

    def write(self, noun: Any, unit: Unit) -> dict[str, Any]:
        """What the lines below the heading say, by key, without tables under other headings."""
        values = ((one, getattr(noun, one.field)) for one in self.keys if not one.key.heading)
        return {
            one.key.name: one.codec.write(value, unit)
            for one, value in values
            if one.is_said(value)
        }

    def name_of(self, noun: Any) -> str:
        """What tells `noun` from others in its list: what its first key holds."""
        return str(getattr(noun, self.keys[0].field))

    def below(self, noun: Any) -> Iterator[tuple[str, "Table", Any]]:
        """Each part of `noun` under a heading of its own: the heading, its table, the part."""
        for one in self.keys:
            if one.table:
                held = getattr(noun, one.field)
                for part in held if isinstance(one.codec, Listed) else (held,):
                    yield one.key.heading, one.table, part

    def headings(self) -> Iterator[str]:
        """Every heading that may stand below its own, in the order in which they are written."""
        for one in self.keys:
            if one.table:
                yield one.key.heading
                yield from one.table.headings()


_TABLES: dict[Any, Table] = {}
_SIMPLE: dict[Any, Codec] = {
    str: TEXT,
    int: WHOLE,
    bool: TRUTH,
    Length: LENGTH,
    Size: SIZE,
}


def codec_of(kind: Any) -> Codec:
    """The codec of values of a type, as a dataclass annotates it.

    Known are text, whole numbers, true and false, `Length`, `Size`, literals, literals or a length,
    tuples, mappings from names, dataclasses that have a `Table` already, and any of these or None.
    Raises TypeError for any other.
    """
    simple = _SIMPLE.get(kind) or _TABLES.get(kind)
    return simple or _composed(get_origin(kind), get_args(kind))


def _composed(origin: Any, inner: tuple[Any, ...]) -> Codec:
    if origin is Literal:
        return Word(inner)
    if origin is tuple and inner[1:] == (...,):
        return Listed(codec_of(inner[0]))
    if origin is tuple:
        return Fixed(tuple(map(codec_of, inner)), lambda *parts: parts, tuple)
    if origin is abc.Mapping:
        return Named(codec_of(inner[1]))
    if origin not in (Union, types.UnionType):
        raise TypeError(f"values of {origin} have no codec; add one to codecs")
    first, *others = (kind for kind in inner if kind is not types.NoneType)
    return WordOrLength(get_args(first)) if others == [Length] else codec_of(first)


def _default(field: Field[Any]) -> Any:
    return field.default if field.default_factory is MISSING else field.default_factory()
