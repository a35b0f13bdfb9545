"""The words of errors in project files: place, what is wrong, what is right."""

import re
import tomllib
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

from workbench.store.errors import ProjectFileError, shown

Path = tuple[str | int, ...]

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
    """The error for text that is not TOML, with its line and column.

    Args:
        error: as tomllib raised it.
        text: the whole text of the file.
        file: what the file is called.
    """
    said = str(error)
    found = re.search(r"\(at line (\d+), column (\d+)\)", said)
    lines = text.split("\n")
    line, column = found.groups() if found else (len(lines), len(lines[-1]) + 1)
    wrong, right = next(
        (words for start, words in _SYNTAX.items() if said.startswith(start)),
        ("it cannot be read as TOML", 'write each line as key = value, as in name = "x"'),
    )
    return ProjectFileError(f"{file}: line {line}, column {column}", wrong, right)


def place_of(path: Path, data: Any) -> str:
    """A place in words: `pieces[2] "panel", size`.

    Args:
        path: keys, and positions in lists from 0 (told from 1), from the top of the file.
        data: all that TOML gave, to find the names of things in lists.
    """
    words: list[str] = []
    for depth, step in enumerate(path):
        if isinstance(step, str):
            words.append(step)
            continue
        words[-1] += f"[{step + 1}]"
        if depth == 1 and (name := _name_of(_at(path[:2], data))):
            words[-1] += f" {shown(name)}"
    return ", ".join(words) or "the file"


def unknown_key(key: str, known: Sequence[str]) -> tuple[str, str]:
    """What is wrong with a `key` that is none of those `known` here, and what would be right."""
    close = get_close_matches(key.lower(), known, n=1, cutoff=0.7)
    mend = f'did you mean "{close[0]}"?' if close else f"its keys are {', '.join(known)}"
    return f"the key {shown(key)} is not known", mend


def _at(path: Path, data: Any) -> Any:
    for step in path:
        data = data[step]
    return data


def _name_of(table: Any) -> str | None:
    name = (table.get("name") or table.get("paper")) if isinstance(table, dict) else None
    return name if isinstance(name, str) else None
