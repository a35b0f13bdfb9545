"""Sizes stay on one line: "11" above "3/16" would be read as two figures."""

import io

import pytest
from rich.console import Console, RenderableType
from rich.text import Text

from tests.making.plans import HARBOUR, PLAN
from workbench.craft.trimmer import Trimmer
from workbench.drawing.canvas import wrapped
from workbench.drawing.report import report
from workbench.drawing.unbroken import Unbroken, unbroken
from workbench.making.plan_index import PlanIndex


def lines(shown: RenderableType, columns: int) -> list[str]:
    console = Console(width=columns, file=io.StringIO())
    with console.capture() as captured:
        console.print(shown)
    return [line.rstrip() for line in captured.get().splitlines()]


def test_no_line_ends_within() -> None:
    words = f"6 × part {unbroken('6 7/16 × 11 3/16')} kept"
    assert lines(Unbroken(Text(words)), 20) == ["6 × part", "6 7/16 × 11 3/16", "kept"]


def test_a_plan_has_plain_blanks_only() -> None:
    told = "\n".join(lines(report(PlanIndex(HARBOUR, PLAN), Trimmer(), 70), 70))
    assert "2 1/4 × 4 3/4" in told
    assert unbroken(" ") not in told


@pytest.mark.parametrize(
    ("columns", "told"),
    [
        (24, ["2 × part 12 × 11 3/16"]),
        (17, ["2 ×", "part 12 × 11 3/16"]),
        (16, ["2 × part 12 ×", "11 3/16"]),
        (7, ["2 ×", "part 12", "×", "11 3/16"]),
        (4, ["2 ×", "part", "12 ×", "11 3", "/16"]),
    ],
)
def test_a_size_that_is_too_wide_is_broken_between_its_sides(columns: int, told: list[str]) -> None:
    words = ["2", "×", "part\N{NO-BREAK SPACE}12 × 11 3/16"]
    plain = [line.replace("\N{NO-BREAK SPACE}", " ") for line in wrapped(words, columns)]
    assert plain == told
