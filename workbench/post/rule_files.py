"""Reading the files that say what a post asks, and which envelopes there are."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any, TypeVar

from workbench.craft.envelope import Envelope
from workbench.craft.errors import CraftError, checked_name, nearest
from workbench.craft.paper import Size
from workbench.measure.length import MeasureError
from workbench.measure.masses import read_grams
from workbench.measure.numerals import read_amount
from workbench.measure.reading import UNIT_WORDS, read_length
from workbench.post.rules import MEASURED, POSTED, Limit, Measured, Post, PostalClass, Rule

SUFFIX = ".toml"
ENVELOPES = "envelopes"
# The posts whose rules come with the program, in the order in which they are told.
BUILT_IN = ("us", "uk", "ca", "de", "world")
_LENGTHS = ("length", "height", "thickness", "unevenness", "length + height + thickness")
_Word = TypeVar("_Word", bound=str)


@cache
def built_in_posts() -> Mapping[str, Post]:
    """The posts whose rules come with the program, by key."""
    return {key: read_post(built_in_text(key), key) for key in BUILT_IN}


@cache
def built_in_envelopes() -> tuple[Envelope, ...]:
    """The envelopes of the published tables."""
    return read_envelopes(built_in_text(ENVELOPES), f"{ENVELOPES}{SUFFIX}")


def read_post(text: str, key: str) -> Post:
    """The post whose file, called `key`.toml, holds `text`.

    Raises:
        CraftError: where the file has a hole or holds what cannot be; in one line.
    """
    table = _Table.of_file(text, f"{key}{SUFFIX}")
    table.known("name", "source", "seen", "classes")
    source, seen = table.text("source"), table.day("seen")
    classes = tuple(_class(each, source, seen) for each in table.tables("classes"))
    return Post(key, table.text("name"), classes, source, seen)


def read_envelopes(text: str, name: str) -> tuple[Envelope, ...]:
    """The envelopes of a file of tables, called `name`.

    Raises:
        CraftError: where the file has a hole or holds what cannot be; in one line.
    """
    table = _Table.of_file(text, name)
    table.known("seen", "tables")
    seen = table.day("seen")
    return tuple(envelope for each in table.tables("tables") for envelope in _envelopes(each, seen))


def built_in_text(key: str) -> str:
    """The text of a file that comes with the program, by its name without ".toml"."""
    return (files("workbench.post") / "data" / f"{key}{SUFFIX}").read_text(encoding="utf-8")


@dataclass(frozen=True, slots=True)
class _Table:
    """A table of a file and the words that lead to it, so that an error can say where it is."""

    place: str
    data: Mapping[str, Any]

    @classmethod
    def of_file(cls, text: str, name: str) -> "_Table":
        try:
            return cls(name, tomllib.loads(text))
        except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
            wrong = f"it cannot be read as TOML ({error})"
            raise CraftError(name, wrong, 'write each line as key = value, as in name = "x"') from (
                error
            )

    def refusal(self, key: str, wrong: str, right: str) -> CraftError:
        return CraftError(f"{self.place}, {key}", wrong, right)

    def known(self, *keys: str) -> None:
        """Refuse a key that is none of these. Raises CraftError, as all others here."""
        for key in self.data:
            if key not in keys:
                close = get_close_matches(key, keys, n=1)
                right = f'did you mean "{close[0]}"?' if close else f"its keys are {_listed(keys)}"
                raise self.refusal(key, "the key is not known", right)

    def text(self, key: str, usual: str | None = None) -> str:
        value = self.data.get(key, usual)
        if value is None:
            raise self.refusal(key, "it is missing", f'add {key} = "..."')
        if not isinstance(value, str):
            raise self.refusal(key, "it should be text in quotes", f'write {key} = "..."')
        return checked_name(value, f"{self.place}, {key}", key, longest=_LONGEST_TEXT)

    def day(self, key: str, usual: str | None = None) -> str:
        value = self.data.get(key, usual)
        if isinstance(value, str) and value == usual:
            return value
        if not isinstance(value, date):
            wrong = "it is missing" if value is None else "it should be a day"
            raise self.refusal(key, wrong, f"write {key} = 2026-11-27, the day you looked it up")
        return value.isoformat()

    def word(self, key: str, words: Sequence[_Word]) -> _Word | None:
        value = self.data.get(key)
        for word in words:
            if value == word:
                return word
        if value is None:
            return None
        raise self.refusal(key, f'"{value}" is not known here', nearest(str(value), words))

    def tables(self, key: str) -> Iterator["_Table"]:
        value = self.data.get(key)
        if not isinstance(value, list) or not value:
            wrong = "it is missing" if value is None else "it should be a list of tables"
            raise self.refusal(key, wrong, f"add a table headed [[{key}]]")
        for number, each in enumerate(value, 1):
            name = each.get("name") or each.get("of") if isinstance(each, dict) else None
            said = f' "{name}"' if isinstance(name, str) else ""
            place = f"{self.place}: {key}[{number}]{said}"
            if not isinstance(each, dict):
                raise CraftError(place, "it should be a table", "write it as { key = value }")
            yield _Table(place, each)

    def under(self, key: str) -> "_Table":
        value = self.data.get(key, {})
        if not isinstance(value, dict):
            raise self.refusal(key, "it should be a table", f"write {key} = {{ ... }}")
        return _Table(f"{self.place}, {key}", value)


_LONGEST_TEXT = 200


def _class(table: _Table, source: str, seen: str) -> PostalClass:
    table.known("name", "posted", "rules", "source", "seen")
    source, seen = table.text("source", source), table.day("seen", seen)
    rules = tuple(_rule(each, source, seen) for each in table.tables("rules"))
    return PostalClass(table.text("name"), rules, table.word("posted", POSTED))


def _rule(table: _Table, source: str, seen: str) -> Rule:
    table.known("of", "least", "most", "tolerance", "over", "source", "seen")
    of = table.word("of", MEASURED)
    if of is None:
        raise table.refusal("of", "it is missing", f"add one of {_listed(MEASURED)}")
    least, most = _limit(table, "least", of), _limit(table, "most", of)
    if least is None and most is None:
        raise table.refusal("least", "it has neither least nor most", 'add most = "..."')
    if least and most and least.value > most.value:
        raise table.refusal("least", "it is more than the most", "swap the two")
    over = table.under("over")
    over.known(*MEASURED)
    measures = [each for each in MEASURED if each in over.data]
    return Rule(
        of=of,
        least=least,
        most=most,
        tolerance=_limit(table, "tolerance", of),
        over={each: limit for each in measures if (limit := _limit(over, each, each))},
        source=table.text("source", source),
        seen=table.day("seen", seen),
    )


def _limit(table: _Table, key: str, of: Measured) -> Limit | None:
    value = table.data.get(key)
    if value is None:
        return None
    if not isinstance(value, str):
        raise table.refusal(key, "it should be text in quotes", f'write it as in "{_EXAMPLES[of]}"')
    try:
        return _read_limit(value, of)
    except MeasureError as error:
        raise table.refusal(key, error.what, error.mend) from error


_EXAMPLES: dict[str, str] = dict.fromkeys(_LENGTHS, "5 mm") | {
    "weight": "100 g",
    "shape": "1.4",
    "lumps": "0",
}


def _read_limit(text: str, of: Measured) -> Limit:
    """Raises MeasureError for what is no measure of that sort, its unit missing included."""
    example = _EXAMPLES[of]
    number, rest = read_amount(text, example)
    wrong = MeasureError(f'"{text}" is no {of}', f'write it as in "{example}"')
    if of in _LENGTHS:
        if rest not in UNIT_WORDS:
            raise wrong
        return Limit(read_length(text, "mm").mm, "in" if UNIT_WORDS[rest] == "in" else "mm", text)
    if of == "weight":
        return Limit(read_grams(text), "oz" if rest.startswith(("oz", "ounce")) else "g", text)
    if rest:
        raise wrong
    return Limit(Fraction(number), "", text)


def _envelopes(table: _Table, seen: str) -> Iterator[Envelope]:
    table.known("name", "source", "seen", "envelopes")
    source, seen = table.text("source"), table.day("seen", seen)
    sizes = table.under("envelopes")
    for name, said in sizes.data.items():
        if not isinstance(said, dict):
            yield Envelope(name, _sides(said, sizes, name), source=f"{source}, seen {seen}")
            continue
        one = sizes.under(name)
        one.known("size", "weight")
        weight = one.text("weight") if "weight" in said else None
        size = _sides(said.get("size"), sizes, name)
        yield Envelope(name, size, weight, f"{source}, seen {seen}")


def _sides(said: Any, table: _Table, name: str) -> Size:
    if not (isinstance(said, list) and len(said) == 2):
        raise table.refusal(name, "it should be two lengths", 'write ["110 mm", "220 mm"]')
    try:
        width, height = (read_length(side, "mm") for side in said)
    except MeasureError as error:
        raise table.refusal(name, error.what, error.mend) from error
    return Size(width, height)


def _listed(words: Sequence[str]) -> str:
    return ", ".join(f'"{word}"' for word in words)
