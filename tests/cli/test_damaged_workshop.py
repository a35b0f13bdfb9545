"""A workshop whose rows do not hold what they should: one line says so, no fault is reported."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.drawing import begin, stocked, ticked
from workbench.cli import main
from workbench.store.backup import trouble
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer

STRANGE = ("null", "3", "{}", "[1]", "x", "\x1b[31m", b"\xff\xfe", '{"offcuts": "a"}')


@pytest.fixture
def drawer(workshop_folder: Path) -> Drawer:
    drawer = Drawer(Workshop.open(workshop_folder))
    ticked(drawer.workshop, begin(drawer, stocked(drawer)), 3)
    drawer.add_offcuts(1, drawer.paper(1).paper.paper.size, 2)
    return drawer


@pytest.mark.parametrize("kept", STRANGE)
@pytest.mark.parametrize(
    ("change", "commands"),
    [
        ("UPDATE events SET carries = ?", (("batch", "list"), ("batch", "show", "1"))),
        ("UPDATE lots SET size = ? WHERE size != ''", (("stock", "list"),)),
    ],
)
def test_damaged_rows_are_told_in_one_line(
    drawer: Drawer,
    capsys: pytest.CaptureFixture[str],
    change: str,
    commands: tuple[tuple[str, ...], ...],
    kept: object,
) -> None:
    with closing(sqlite3.connect(drawer.workshop.file)) as connection, connection:
        connection.execute(change, (kept,))
    for command in commands:
        assert main([*command]) in (0, 2)
        told = capsys.readouterr().err
        assert told.count("\n") <= 1
        assert "fault" not in told
        assert all(line.isprintable() for line in told.splitlines())


def test_what_sqlite_says_in_bytes_that_are_no_text_is_damage(
    drawer: Drawer, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """SQLite quotes the name of a table, and Python cannot read it."""
    file = drawer.workshop.file
    content = file.read_bytes()
    at = content.index(b"CREATE TABLE events")
    file.write_bytes(content[:at] + b"CREATE TABL\xee events" + content[at + 19 :])
    assert trouble(file)
    assert main(["backup", str(tmp_path / "copy.sqlite")]) in (0, 2)
    assert "fault" not in capsys.readouterr().err


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE batches SET path = x'ff00'",
        "UPDATE events SET step = 'x'",
        "UPDATE events SET at = x'ff'",
        "UPDATE settings SET value = x'ff'",
        "UPDATE papers SET data = x'ff'",
    ],
)
def test_values_of_another_kind_are_damage(
    drawer: Drawer, capsys: pytest.CaptureFixture[str], change: str
) -> None:
    with closing(sqlite3.connect(drawer.workshop.file)) as connection, connection:
        connection.execute(change)
    for command in (("batch", "list"), ("batch", "show", "1"), ("stock", "list"), ("settings",)):
        assert main([*command]) in (0, 2)
        assert "fault" not in capsys.readouterr().err
