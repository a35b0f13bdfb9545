"""Files that nobody would write: each is refused in one line, or checked and planned."""

import json
import tomllib
from collections.abc import Iterable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from copy import deepcopy
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any

import tomli_w
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.store.bad_files import GOOD
from workbench import cli

RULED = """
[[papers]]
name = "reed check"
kind = "patterned"
size = [6, 6]
back = { name = "reed back", run = "up" }

[[offcuts]]
paper = "moth dot"
size = [5, 6]

[mixing]
deal = 2
apart = [["reed back", "moth dot"]]

[[mixing.cards]]
number = 2
shows = { panel = "moth dot" }
"""
WHOLE = tomllib.loads(GOOD + RULED)
STRANGE: tuple[Any, ...] = (
    *(
        "",
        " ",
        "x" * 61,
        "x" * 5000,
        "\x07",
        "\x1b[31mred",
        "a\nb",
        "a\u202eb",
        "a\u200bb",
        "\ufeff",
    ),
    *(
        "[red]x[/red]",
        "[/]",
        "[bold",
        "{0} %s",
        "e\u0301" * 20,
        "漢字",
        "١٢",
        "½",
        "../../etc/passwd",
    ),
    *(
        "card base",
        "inside",
        "1/0",
        "-1",
        "1e5",
        "nan",
        "1/987654321",
        "123456789/987654321",
        "99 m",
    ),
    *(0, -1, 1, 3, 100_001, 2**63, 10**30, -(10**30)),
    *(0.0, -1.5, 0.1, 1e-300, 1e300, float("nan"), float("inf")),
    *(True, [], {}, [[]], [{}], {"a": {"b": {"c": 1}}}, date(2024, 2, 3), [1, "x"], ["a"] * 300),
)


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if path:
        yield path
    steps: Iterable[Any] = ()
    if isinstance(value, dict):
        steps = value
    elif isinstance(value, list):
        steps = range(len(value))
    for step in steps:
        yield from places(value[step], (*path, step))


def changed(changes: list[tuple[tuple[Any, ...], Any]]) -> str:
    """A good file with other values at some places, where those are still there."""
    data = deepcopy(WHOLE)
    for (*path, last), value in changes:
        holder: Any = data
        try:
            for step in path:
                holder = holder[step]
            holder[last] = value
        except (KeyError, IndexError, TypeError):
            continue
    return tomli_w.dumps(data)


def obeyed(*words: str | Path) -> tuple[int, str, str]:
    with redirect_stdout(StringIO()) as out, redirect_stderr(StringIO()) as errors:
        code = cli.main([str(word) for word in words])
    return code, out.getvalue(), errors.getvalue()


def test_the_good_file_is_good(tmp_path: Path) -> None:
    path = tmp_path / "good.toml"
    path.write_text(changed([]), encoding="utf-8")
    assert obeyed("check", path)[0] == 0


@given(st.lists(st.tuples(st.sampled_from([*places(WHOLE)]), st.sampled_from(STRANGE)), max_size=2))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_a_strange_file_is_refused_in_one_line_or_planned(
    tmp_path: Path, changes: list[tuple[tuple[Any, ...], Any]]
) -> None:
    path = tmp_path / "strange.toml"
    path.write_text(changed(changes), encoding="utf-8")
    code, out, errors = obeyed("check", path)
    assert code in (0, 2)
    assert all(line.isprintable() for line in f"{out}{errors}".split("\n"))
    if code == 2:
        assert (out, errors.count("\n")) == ("", 1)
        assert errors.startswith(f"{path}: ")
        return
    code, out, errors = obeyed("plan", path)
    assert code in (0, 2, 3)
    assert all(line.isprintable() for line in f"{out}{errors}".split("\n"))
    again, out, errors = obeyed("plan", path, "--json")
    assert again == code
    assert code == 2 or json.loads(out)["format"] == 1
