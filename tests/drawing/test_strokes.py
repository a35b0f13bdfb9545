"""The table of cuts: every stroke once, under its setting."""

import re

from rich.console import Console

from tests.making.plans import HARBOUR, PLAN
from workbench.drawing.strokes import plain_table, table_of_cuts
from workbench.making.plan_index import PlanIndex


def written(table: object) -> list[str]:
    console = Console(width=100, no_color=True)
    with console.capture() as captured:
        console.print(table)
    return captured.get().splitlines()


ROWS = written(table_of_cuts(PlanIndex(HARBOUR, PLAN)))


def test_the_rows_hold_every_step_once_in_order() -> None:
    told: list[int] = []
    for row in ROWS:
        if found := re.match(r"(?:[\d /]+ in)? +(\d+)(?:–(\d+))? +(?:width|height)", row):
            first, last = int(found[1]), int(found[2] or found[1])
            told += range(first, last + 1)
    assert told == [cut.n for cut in PLAN.cuts]


def test_a_mark_is_told_once_a_setting() -> None:
    marks = [found[0] for row in ROWS if (found := re.match(r"[\d /]+ in", row))]
    assert marks == ["4 3/4 in", "3 3/4 in", "1 in", "10 in", "4 in"]


def test_scrap_goes_without_saying() -> None:
    text = "\n".join(ROWS)
    assert "scrap" not in text
    assert "2 × panel" in text
    assert "2 × offcut" in text


def test_no_heading_is_taken_for_markup() -> None:
    assert "[bold]x" in written(plain_table("[bold]x"))[0]
