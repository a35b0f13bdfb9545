"""The whole plan on paper: what it costs to write for a large batch."""

import io
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest
from rich.console import Console

from tests.effort import SOON
from tests.making.plans import HARBOUR, PLAN
from tests.store.bad_files import GOOD
from workbench.craft.pace import ESTIMATED, KINDS, Pace
from workbench.craft.trimmer import Trimmer
from workbench.drawing.report import _card_numbers, report
from workbench.making import cautions
from workbench.making.plan_index import PlanIndex
from workbench.making.words import in_minutes
from workbench.planning import figures_of, table_work
from workbench.planning.driver import make_plan
from workbench.planning.progress import Watch
from workbench.publish.writer import make_recipe
from workbench.store.load import project_from_text
from workbench.store.plan_data import plan_to_data


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Iterator[Counter[str]]:
    """How often lots are sorted out, and parts measured for the cautions."""
    counted: Counter[str] = Counter()

    def counting(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def called(*given: Any) -> Any:
            counted[name] += 1
            return call(*given)

        return called

    monkeypatch.setattr(PlanIndex, "lots", counting("lots", PlanIndex.lots))
    monkeypatch.setattr(cautions, "_measured", counting("measured", cautions._measured))
    yield counted


def written_for(cards: int) -> int:
    """Writes the report of so many cards; how many steps they take."""
    project = project_from_text(GOOD, "it")
    project = replace(
        project,
        card=replace(project.card, count=cards),
        papers=tuple(replace(paper, sheets=cards) for paper in project.papers),
    )
    index = PlanIndex(project, make_plan(project, Trimmer(), Watch(limits=SOON)))
    report(index, Trimmer(), 80)
    return len(index.plan.steps)


def test_ten_times_the_cards_take_no_more_than_ten_times_the_work(calls: Counter[str]) -> None:
    written_for(60)
    few = calls.copy()
    calls.clear()
    steps = written_for(600)
    assert calls["lots"] <= few["lots"] + 4
    assert calls["measured"] <= 8 * steps


@pytest.mark.parametrize(
    ("numbers", "written"),
    [
        ([*range(1, 10)], "1–9"),
        ([*range(1, 99, 2)], "1, 3 … 97 (49 cards)"),
        ([1, 3, 9, 15, *range(31, 60, 2)], ", ".join(map(str, [1, 3, 9, 15, *range(31, 60, 2)]))),
        ([*range(10_000, 20_001), *range(30_000, 100_001)], "10000–20000, 30000–100000"),
    ],
)
def test_many_numbers_of_cards_are_shortened(numbers: list[int], written: str) -> None:
    assert _card_numbers(numbers) == written


@pytest.mark.parametrize("pace", [ESTIMATED, Pace(45, 15, 6, 4, own=KINDS)])
def test_report_guide_choices_and_data_tell_the_same_minutes(pace: Pace) -> None:
    plan = replace(PLAN, pace=pace)
    index = PlanIndex(HARBOUR, plan)
    told = f"bout {in_minutes(table_work(plan.cuts).seconds(pace))}"
    console = Console(width=100, record=True, file=io.StringIO())
    console.print(report(index, Trimmer(), 100))
    written = console.export_text()
    assert f"A{told} at the trimmer" in written
    assert ("estimates" in written) == (pace is ESTIMATED)
    assert ("your own pace" in written) == (pace is not ESTIMATED)
    assert f"a{told}" in make_recipe(index, Trimmer(), "in").cut_facts
    data = plan_to_data(plan, "in")
    assert data["totals"]["table_seconds"] == figures_of(plan).seconds
    assert f"bout {in_minutes(figures_of(plan).seconds)}" == told


def test_what_is_ruled_out_is_rounded_down() -> None:
    seconds = table_work(PLAN.cuts).seconds(PLAN.pace)
    for least, words in (
        (seconds, "no cutting in rows takes less\n"),
        (119, "no cutting in rows takes less than 1 minute"),
        (59, "at the trimmer\n"),
        (None, "at the trimmer\n"),
    ):
        plan = replace(PLAN, totals=replace(PLAN.totals, least_table_seconds=least))
        console = Console(width=100, record=True, file=io.StringIO())
        console.print(report(PlanIndex(HARBOUR, plan), Trimmer(), 100))
        assert words in "\n".join(line.rstrip() for line in console.export_text().splitlines())


def test_no_drawing_of_a_sheet_makes_way_for_what_it_gives(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("workbench.drawing.report._LEGEND", 20)  # less than its words take
    console = Console(width=56, file=io.StringIO(), force_terminal=False)
    console.print(report(PlanIndex(HARBOUR, PLAN), Trimmer(), 56))
    written = console.file.getvalue()  # type: ignore[attr-defined]
    sheets = written.partition("HOW THE SHEETS")[2].partition("THE CUTS")[0]
    assert "…" not in sheets
    assert "1 × panel" in sheets
    assert "3 3/4 × 4 3/4" in sheets
