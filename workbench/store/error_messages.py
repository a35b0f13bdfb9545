"""Why a project file is refused, in a maker's words: file, place, what is wrong, what is right."""

import re
import tomllib
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

import msgspec

from workbench.store.errors import ProjectFileError, shown
from workbench.store.schema import EXAMPLES, ProjectTable

Path = tuple[str | int, ...]

_AT_PLACE = re.compile(r"(?P<said>.*?)(?: - at `\$\.?(?P<path>[^`]*)`)?", re.DOTALL)
_STEP = re.compile(r"([a-z_]+)|\[(\d+)\]")
_WORDS = {
    "int": "a whole number",
    "float": "a number that is not whole",
    "str": "text in quotes",
    "array": "a list",
    "object": "a table",
    "bool": "true or false",
    "int | float | str": "a length",
    "date": "a date",
    "time": "a time",
    "datetime": "a date and time",
}
_SYNTAX = {
    "Cannot overwrite a value": ("a key stands there twice", "keep one of the two"),
    "Cannot declare": ("a table stands there twice", "join the two, or head them [[...]]"),
    "Cannot mutate immutable namespace": ("a table is added to twice", "join the two"),
    "Invalid value": ("a value cannot be read", 'put text and fractions in quotes, as in "5 1/4"'),
    "Unclosed array": (
        "a list does not end",
        'put commas between its values, fractions in quotes ("5 1/4"), and ] at its end',
    ),
    "Expected newline or end of document": (
        "something follows the value",
        'put each key on a line of its own, text and fractions in quotes, as in "5 1/4"',
    ),
    "Expected '=' after a key": ("a key has no value", 'write it as key = value, as in name = "x"'),
    "Illegal character": (
        "a character cannot stand there",
        "delete it, or close the quotes before it",
    ),
    "Unescaped '\\'": ("a backslash stands in quotes", "write it twice, \\\\"),
    "Invalid date or datetime": ("there is no such day or hour", "write text in quotes"),
    "Unterminated string": ("quotes are not closed", 'put " at the end of the text'),
}


def not_toml(error: tomllib.TOMLDecodeError, text: str, file: str) -> ProjectFileError:
    """The refusal of text that is not TOML, with its line and column."""
    said = str(error)
    found = re.search(r"\(at line (\d+), column (\d+)\)", said)
    lines = text.split("\n")
    line, column = found.groups() if found else (len(lines), len(lines[-1]) + 1)
    wrong, right = next(
        (words for start, words in _SYNTAX.items() if said.startswith(start)),
        ("it cannot be read as TOML", 'write each line as key = value, as in name = "x"'),
    )
    return ProjectFileError(f"{file}: line {line}, column {column}", wrong, right)


def not_a_project(error: msgspec.ValidationError, data: Any, file: str) -> ProjectFileError:
    """The refusal of TOML that is not a project: a key too many or missing, or a wrong type."""
    match = _AT_PLACE.fullmatch(str(error))
    said = match["said"] if match else str(error)
    path = _steps(match["path"] or "") if match else ()
    wrong, right, beyond = _reasons(said, path, data)
    return ProjectFileError(f"{file}: {place_of((*path, *beyond), data)}", wrong, right)


def place_of(path: Path, data: Any) -> str:
    """A place as a maker finds it: `pieces[2] "panel", size`; the first is number 1."""
    words: list[str] = []
    for depth, step in enumerate(path):
        if isinstance(step, str):
            words.append(step)
            continue
        words[-1] += f"[{step + 1}]"
        if depth == 1 and (name := _name_of(_at(path[:2], data))):
            words[-1] += f" {shown(name)}"
    return ", ".join(words) or "the file"


def nearest(word: str, allowed: Sequence[str]) -> str:
    """What would have been right instead of `word`."""
    close = get_close_matches(word.lower(), allowed, n=1)
    every = ", ".join(f'"{one}"' for one in allowed)
    return f'did you mean "{close[0]}"? It can be {every}' if close else f"use one of {every}"


def _reasons(said: str, path: Path, data: Any) -> tuple[str, str, Path]:
    """What is wrong, what would be right, and the key that lies beyond `path` if one does."""
    if unknown := re.fullmatch(r"Object contains unknown field `(.*)`", said, re.DOTALL):
        return _unknown_key(unknown[1], path)
    if missing := re.fullmatch(r"Object missing required field `(.*)`", said):
        key = missing[1]
        return "it is missing", f"add {EXAMPLES[key]}", (key,)
    if said.startswith("Invalid enum value"):
        value = str(_at(path, data))
        return f"{shown(value)} is not known here", nearest(value, _allowed(path)), ()
    right = f"write it as {_example(path)}"
    if sized := re.fullmatch(r"Expected `array` of length (\d+), got (\d+)", said):
        return f"it should hold {sized[1]} values, not {sized[2]}", right, ()
    if typed := re.fullmatch(r"Expected `(.*?)(?: \| null)?`, got `(.*)`", said):
        asked, got = (_WORDS.get(name, name) for name in typed.groups())
        return f"it should be {asked}, not {got}", right, _own_key(path, data)
    beyond = said.startswith("Expected `int` ")
    return "it is beyond any number that can be used here" if beyond else said, right, ()


def _unknown_key(key: str, path: Path) -> tuple[str, str, Path]:
    known = _keys(path)
    close = get_close_matches(key.lower(), known, n=1, cutoff=0.7)
    mend = f'did you mean "{close[0]}"?' if close else f"its keys are {', '.join(known)}"
    return f"the key {shown(key)} is not known", mend, ()


def _own_key(path: Path, data: Any) -> Path:
    """Which of the maker's own keys holds no text, where `path` leads to a table of those."""
    table = _at(path, data) if path[-1:] == ("shows",) else None
    if not isinstance(table, dict):
        return ()
    return (shown(next(key for key, value in table.items() if not isinstance(value, str))),)


def _steps(path: str) -> Path:
    return tuple(name or int(number) for name, number in _STEP.findall(path))


def _at(path: Path, data: Any) -> Any:
    for step in path:
        data = data[step]
    return data


def _name_of(table: Any) -> str | None:
    name = (table.get("name") or table.get("paper")) if isinstance(table, dict) else None
    return name if isinstance(name, str) else None


def _example(path: Path) -> str:
    return EXAMPLES[next(step for step in reversed(path) if isinstance(step, str))]


def _keys(path: Path) -> tuple[str, ...]:
    kind = _type_at(path)
    assert isinstance(kind, msgspec.inspect.StructType)
    return tuple(field.encode_name for field in kind.fields)


def _allowed(path: Path) -> tuple[str, ...]:
    kind = _type_at(path)
    assert isinstance(kind, msgspec.inspect.LiteralType)
    return tuple(str(value) for value in kind.values)


def _type_at(path: Path) -> msgspec.inspect.Type:
    kind: msgspec.inspect.Type = msgspec.inspect.type_info(ProjectTable)
    for step in path:
        if isinstance(kind, msgspec.inspect.StructType):
            kind = next(field.type for field in kind.fields if field.encode_name == step)
        elif isinstance(kind, msgspec.inspect.VarTupleType):
            kind = kind.item_type
        if isinstance(kind, msgspec.inspect.UnionType):
            kind = kind.types[0]
    return kind
