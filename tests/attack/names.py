"""Names that mean something to a screen, a page or a spreadsheet: shown as they are, everywhere."""

import asyncio
from dataclasses import replace
from pathlib import Path
from random import Random

from wcwidth import wcwidth

from tests.app.running import press, running
from tests.attack.files import obeyed
from tests.making.plans import HARBOUR
from workbench.craft.errors import CraftError
from workbench.craft.project import Project
from workbench.store.project_file import write_project

NAMES = (
    "[bold]x[/bold]", "[/]", "[link=x]y", "{0} %s %(a)s", "$x$ #eval(1)", "#import \"x\"",
    "*_`~^", "<script>alert(1)</script>", "&lt;&amp;", "\"'><svg onload=x>", "=1+1",
    "+cmd|' /C x'!A0", "@SUM(A1)", "../../etc/passwd", "C:\\con", "..", "-rf", "--help",
    "%00%0a", "❤\ufe0f", "👍🏽 ☎\ufe0f", "1\ufe0f\u20e3", "漢字漢字漢字", "e\u0301\u0301\u0301",
    "ﷺ",
    "عربي", "𝒳𝒴", "½ ¼", "\\u0041", "a\\\"b", "{{wrong}}", "WEBVTT --> x", "x" * 60, "漢" * 60,
    "❤\ufe0f" * 30, "🇬🇧🇬🇧", "//", "/*", "@label", "<label>", "---", "|a|b|",
)  # fmt: skip
SIZES = ((80, 24), (120, 40), (60, 20))
EXPORTS = ("pdf", "png", "svg", "txt", "md", "html")


def renamed(chance: Random) -> Project:
    """A small project with such names, as far as it takes them."""
    project, renames = HARBOUR, {}
    for paper in project.papers:
        renames[paper.name] = chance.choice(NAMES)
    papers = tuple(replace(paper, name=renames[paper.name]) for paper in project.papers)
    *others, last = (
        replace(piece, papers=tuple(renames[name] for name in piece.papers))
        for piece in project.pieces
    )
    return replace(
        project,
        title=chance.choice(NAMES),
        card=replace(project.card, paper=renames[project.card.paper]),
        papers=papers,
        pieces=(*others, replace(last, name=chance.choice(NAMES))),
    )


def hostile_names(chance: Random, folder: Path) -> None:
    """Every page of the app draws its rows as wide as the terminal, and every export is made."""
    try:
        project = renamed(chance)
    except CraftError:  # two papers of one name
        return
    path = folder / "named.toml"
    write_project(path, project)
    asyncio.run(_walked(path, chance.choice(SIZES)))
    code, _, errors = obeyed("plan", path)
    assert code in (0, 3), (code, errors, project)
    out = folder / f"guide.{chance.choice(EXPORTS)}"
    code, _, errors = obeyed("guide", path, "-o", out)
    assert code in (0, 2, 3), (code, errors, project)
    if out.suffix in (".html", ".svg") and out.exists():
        assert "<script>alert" not in out.read_text("utf-8"), project
        assert "<svg onload" not in out.read_text("utf-8"), project


async def _walked(path: Path, size: tuple[int, int]) -> None:
    async with running(path, size) as (app, pilot):
        for keys in ("1", "enter", "escape", "2", "down", "enter", "escape", "3", "4", "f1"):
            await press(pilot, keys)
            for row in app.screen._compositor.render_strips():
                taken = sum(max(0, wcwidth(each)) for each in row.text)
                assert taken == size[0], (taken, size, row.text)
