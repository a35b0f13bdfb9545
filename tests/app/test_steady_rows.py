"""Names with emoji of doubtful width leave every row as wide as the terminal, in forms too."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input
from wcwidth import wcwidth

from tests.app.running import press, running, settled
from tests.making.plans import HARBOUR
from workbench.craft.project import Project
from workbench.drawing.graphemes import steady
from workbench.store.project_file import write_project

HEART, PHONE, KEY = "❤\ufe0f", "☎\ufe0f", "1\ufe0f\u20e3"
FAMILY, THUMB = "👩\u200d👩\u200d👧", "👍🏽"


def renamed(project: Project) -> Project:
    *others, last = project.pieces
    pieces = (*others, replace(last, name=f"{HEART}{PHONE} {THUMB}"))
    return replace(project, title=f"{HEART} {KEY} {THUMB} {PHONE}", pieces=pieces)


def widths(pilot: Pilot[None]) -> set[int]:
    """How wide the rows are, each character by itself (wcwidth: The Unicode Standard's tables)."""
    rows = pilot.app.screen._compositor.render_strips()
    return {sum(max(0, wcwidth(each)) for each in row.text) for row in rows}


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_no_row_is_wider_or_narrower(tmp_path: Path, size: tuple[int, int]) -> None:
    path = tmp_path / "hearts.toml"
    write_project(path, renamed(HARBOUR))
    async with running(path, size) as (_, pilot):
        for keys in (["1"], ["2"], ["down", "enter"], ["escape", "3"], ["4"], ["0"], ["b"]):
            await press(pilot, *keys)
            assert widths(pilot) == {size[0]}


async def test_no_row_of_a_form_is(tmp_path: Path) -> None:
    path = tmp_path / "hearts.toml"
    write_project(path, HARBOUR)
    async with running(path) as (_, pilot):
        await press(pilot, "down", "enter")
        for field in pilot.app.screen.query(Input):
            field.value = f"{HEART}{FAMILY} {THUMB}{KEY}x"
        await settled(pilot)
        assert widths(pilot) == {80}


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("plain", "plain"),
        ("é 漢字 e\u0301", "é 漢字 e\u0301"),
        (f"{HEART}!", "❤ !"),
        (f"{FAMILY}!", "👩!"),
        (f"{THUMB}!", "👍!"),
        ("\u200d\ufe0f", ""),
        ("\u200d👩!", " "),
    ],
)
def test_a_cluster_gives_way_to_its_first(text: str, drawn: str) -> None:
    assert steady(text) == drawn
