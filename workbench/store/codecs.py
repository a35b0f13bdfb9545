"""How a value of each type stands in a project file: read with its errors told, and written.

A codec turns what TOML gives into a value of the craft, and back. `tables` does so for a whole
dataclass, by the list of its keys; which tables and keys there are, `schema` says.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from fractions import Fraction
from typing import Any, Protocol

from workbench.craft.errors import checked_name, nearest
from workbench.craft.paper import Size
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.numerals import mixed, read_minutes
from workbench.measure.reading import read_length
from workbench.measure.writing import write_file
from workbench.store.error_messages import Path, place_of
from workbench.store.errors import ProjectFileError, shown

# Longer numbers stand for nothing here, and one of thousands of digits could not even be told.
_LARGEST = 10**12
_CALLED = {
    int: "a whole number",
    float: "a number that is not whole",
    str: "text in quotes",
    list: "a list",
    dict: "a table",
    bool: "true or false",
    date: "a date",
    time: "a time",
    datetime: "a date and time",
}


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a file being read: where errors are, and what would have been right there.

    `data` is all that TOML gave, `path` leads from there to the place, keys and list positions
    (from 0) in turn. `unit` is that of the file's bare numbers.
    """

    file: str
    data: Any
    unit: Unit = "in"
    path: Path = ()
    example: str = ""

    def at(self, step: str | int, example: str = "") -> "Spot":
        """The place one `step` further; `example` shows how to write what belongs there."""
        return replace(self, path=(*self.path, step), example=example or self.example)

    @property
    def place(self) -> str:
        """The place in words: `pieces[2] "panel", size`."""
        return place_of(self.path, self.data)

    def error(self, what: str, mend: str) -> ProjectFileError:
        """The error that says that `what` is wrong at this place, and how to `mend` it."""
        return ProjectFileError(f"{self.file}: {self.place}", what, mend)

    def checked(self, value: Any, kind: type, called: str = "") -> Any:
        """`value`, if it is of the very type `kind`. Raises ProjectFileError."""
        if type(value) is not kind:
            raise self.wrong_type(value, called or _CALLED[kind])
        return value

    def wrong_type(self, value: Any, asked: str) -> ProjectFileError:
        """The error for a `value` of another type than what is `asked`, in words."""
        got = _CALLED[type(value)]
        return self.error(f"it should be {asked}, not {got}", f"write it as {self.example}")


class Codec(Protocol):
    """Reads and writes the values of one type."""

    def read(self, value: Any, spot: Spot) -> Any:
        """What `value`, as TOML gives it, stands for. Raises ProjectFileError."""

    def write(self, value: Any, unit: Unit) -> Any:
        """What TOML shall hold for `value` in a file of `unit`."""


@dataclass(frozen=True, slots=True)
class Plain:
    """Text, or true and false: what TOML gives as it is. `check` may refuse it.

    `check` raises CraftError or MeasureError; it is given the value and its place in words.
    """

    kind: type
    check: Callable[[Any, str], object] | None = None

    def read(self, value: Any, spot: Spot) -> Any:
        """`value`, checked."""
        spot.checked(value, self.kind)
        if self.check:
            try:
                self.check(value, spot.place)
            except MeasureError as error:
                raise spot.error(error.what, error.mend) from error
        return value

    def write(self, value: Any, _: Unit) -> Any:
        """`value` as it is."""
        return value


class Whole:
    """A whole number that can be told."""

    def read(self, value: Any, spot: Spot) -> int:
        """`value`, checked; what range makes sense is for the noun to say."""
        number: int = spot.checked(value, int)
        if abs(number) > _LARGEST:
            raise spot.error(
                "it is beyond any number that can be used here", f"write it as {spot.example}"
            )
        return number

    def write(self, value: int, _: Unit) -> int:
        """`value` as it is."""
        return value


class Measured:
    """A length: a number of the file's unit, or text as `read_length` reads it."""

    def read(self, value: Any, spot: Spot) -> Length:
        """The exact length."""
        if type(value) not in (int, float, str):
            raise spot.wrong_type(value, "a length")
        try:
            return read_length(value, spot.unit)
        except MeasureError as error:
            raise spot.error(error.what, error.mend) from error

    def write(self, value: Length, unit: Unit) -> str | int:
        """The shortest text or number that reads back the same."""
        return write_file(value, unit)


class Minutes:
    """How many minutes, exactly: a number, or text such as "1 1/2"."""

    def read(self, value: Any, spot: Spot) -> Fraction:
        """The exact number."""
        if type(value) not in (int, float, str):
            raise spot.wrong_type(value, "a number of minutes")
        try:
            return read_minutes(str(value))
        except MeasureError as error:
            raise spot.error(error.what, error.mend) from error

    def write(self, value: Fraction, _: Unit) -> str | int:
        """A whole number as it is, any other as text."""
        return value.numerator if value.denominator == 1 else mixed(value)


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words, in quotes."""

    words: tuple[str, ...]

    def read(self, value: Any, spot: Spot) -> str:
        """`value`, if it is one of them."""
        word: str = spot.checked(value, str)
        if word not in self.words:
            raise spot.error(f"{shown(word)} is not known here", nearest(word, self.words))
        return word

    def write(self, value: str, _: Unit) -> str:
        """`value` as it is."""
        return value


@dataclass(frozen=True, slots=True)
class WordOrLength:
    """One of a few words, or a length."""

    words: tuple[str, ...]

    def read(self, value: Any, spot: Spot) -> str | Length:
        """The word or the length; letters alone are taken for a word."""
        if isinstance(value, str):
            if value in self.words:
                return value
            if value.strip().isalpha():
                said = nearest(value, self.words)
                raise spot.error(f"{shown(value)} is no place", f"{said}, or a length")
        return LENGTH.read(value, spot)

    def write(self, value: str | Length, unit: Unit) -> str | int:
        """The word as it is, or the length."""
        return LENGTH.write(value, unit) if isinstance(value, Length) else value


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of any number of values alike; in the craft a tuple."""

    each: Codec

    def read(self, value: Any, spot: Spot) -> tuple[Any, ...]:
        """A tuple of what each item of the list `value` stands for."""
        values = enumerate(spot.checked(value, list))
        return tuple(self.each.read(one, spot.at(number)) for number, one in values)

    def write(self, value: tuple[Any, ...], unit: Unit) -> list[Any]:
        """Every value in turn."""
        return [self.each.write(one, unit) for one in value]


@dataclass(frozen=True, slots=True)
class Fixed:
    """A list of so many values, each with a codec of its own; `make` takes them in turn."""

    parts: tuple[Codec, ...]
    make: Callable[..., Any]
    split: Callable[[Any], tuple[Any, ...]]

    def read(self, value: Any, spot: Spot) -> Any:
        """What `make` makes of the values."""
        values = spot.checked(value, list)
        if len(values) != len(self.parts):
            raise spot.error(
                f"it should hold {len(self.parts)} values, not {len(values)}",
                f"write it as {spot.example}",
            )
        return self.make(
            *(
                part.read(one, spot.at(number))
                for number, (part, one) in enumerate(zip(self.parts, values, strict=True))
            )
        )

    def write(self, value: Any, unit: Unit) -> list[Any]:
        """The values of `value` in turn."""
        values = self.split(value)
        return [part.write(one, unit) for part, one in zip(self.parts, values, strict=True)]


@dataclass(frozen=True, slots=True)
class Named:
    """A table whose keys are names that the maker gave, all with values alike."""

    each: Codec

    def read(self, value: Any, spot: Spot) -> dict[str, Any]:
        """Every value under its name."""
        table = spot.checked(value, dict)
        return {name: self.each.read(one, spot.at(shown(name))) for name, one in table.items()}

    def write(self, value: Mapping[str, Any], unit: Unit) -> dict[str, Any]:
        """Every value under its name."""
        return {name: self.each.write(one, unit) for name, one in value.items()}


@dataclass(frozen=True, slots=True)
class Either:
    """A value of `kind`, or else of another: two ways to say a thing."""

    kind: type
    first: Codec
    other: Codec

    def read(self, value: Any, spot: Spot) -> Any:
        """`value` by the codec of what it is."""
        return self._codec(value).read(value, spot)

    def write(self, value: Any, unit: Unit) -> Any:
        """`value` by the codec of what it is."""
        return self._codec(value).write(value, unit)

    def _codec(self, value: Any) -> Codec:
        return self.first if type(value) is self.kind else self.other


TEXT = Plain(str)
NAME = Plain(str, checked_name)
TRUTH = Plain(bool)
WHOLE = Whole()
LENGTH = Measured()
MINUTES = Minutes()
SIZE = Fixed((LENGTH, LENGTH), Size, lambda size: (size.width, size.height))
