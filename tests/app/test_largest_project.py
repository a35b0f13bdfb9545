"""All that a file may hold at once: it is drawn, keys are obeyed, and it is said to be too much."""

import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.app.running import opened, press, running, shown, until
from tests.making.plans import HARBOUR
from workbench.app.screens import pieces
from workbench.app.screens.piece_words import NOT_YET, LookedOver, look_over
from workbench.craft.card import MOST_A_CARD, MOST_CARDS, Piece
from workbench.craft.paper import MOST_SHEETS, Paper, Size
from workbench.craft.project import MOST_PAPERS, MOST_PIECES, Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning import PlanningError, check_project
from workbench.store.project_file import write_project


def largest() -> Project:
    square = Size(Length.of(12, "in"), Length.of(12, "in"))
    papers = tuple(
        Paper(f"print {n}", "patterned", square, MOST_SHEETS) for n in range(MOST_PAPERS)
    )
    names = tuple(paper.name for paper in papers)
    pieces = tuple(
        Piece(
            f"piece {n}",
            Size(Length.of(20 + n, "mm"), Length.of(1, "in")),
            names,
            per_card=MOST_A_CARD,
        )
        for n in range(MOST_PIECES)
    )
    card = replace(HARBOUR.card, paper=names[0], count=MOST_CARDS)
    return Project("All at once", "in", card, papers, pieces)


async def test_the_largest_project_is_drawn_and_told_to_be_too_large(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = largest()
    painted = threading.Event()

    def looked_over(*given: Any) -> LookedOver:
        assert painted.wait(60)
        return look_over(*given)

    monkeypatch.setattr(pieces, "look_over", looked_over)
    with pytest.raises(PlanningError, match="no more than 1000000 are planned at once") as refusal:
        check_project(project, Trimmer())
    path = tmp_path / "largest.toml"
    write_project(path, project)
    async with running(path) as (app, pilot):
        # It is painted before it is looked over, which goes on beside it.
        assert shown(app, "#post") == NOT_YET.post[0]
        painted.set()
        await until(pilot, lambda: "Posted" in shown(app, "#post"))
        await press(pilot, "3")
        await until(pilot, lambda: opened(app).trouble is not None)
        assert opened(app).trouble == str(refusal.value)
        await press(pilot, "escape", "1", "2", "4", "q")
        await until(pilot, lambda: not app.is_running)
