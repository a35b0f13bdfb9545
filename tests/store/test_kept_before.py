"""What earlier versions have kept in workshops still opens.

The files in tests/store/kept were written by the program as it was before its plans said which
sheets are offcuts, and None for what is not known (commit 323554e); the workshop by the first that
had batches (commit 7bc82b4).
"""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from workbench.craft.paper import Offcut, Size
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import replay, tick
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import prompt
from workbench.measure.length import Length
from workbench.measure.writing import SIXTEENTHS
from workbench.planning import settings
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.event_data import event_kept
from workbench.store.plan_data import plan_from_data, plan_to_data
from workbench.store.trimmer_data import trimmer_kept

KEPT = Path(__file__).parent / "kept"
AT = "2026-05-03T00:00:00+00:00"


def test_a_whole_workshop(tmp_path: Path) -> None:
    workshop = Workshop.open(tmp_path)
    with closing(sqlite3.connect(workshop.file)) as connection:
        connection.executescript((KEPT / "workshop.sql").read_text(encoding="utf-8"))
    (line,) = workshop.batches()
    assert (line.done, line.steps, line.title) == (4, 13, "A birthday card for Aunt Wren")
    batch = workshop.batch(line.id)
    assert [event.what for event in batch.events] == [*["ticked"] * 5, "taken back"]
    state = replay(batch.plan, batch.events)
    index = PlanIndex(batch.project, batch.plan)
    now = prompt(index, state, SIXTEENTHS)
    assert now and now.step.n == 5
    workshop.append(line.id, tick(state, batch.events[-1].at), len(batch.events) + 1)
    assert workshop.batches()[0].done == 5
    assert [recent.title for recent in workshop.recent()] == [line.title]
    assert Drawer(workshop).audit() == ()


def kept(name: str) -> Any:
    return json.loads((KEPT / name).read_text(encoding="utf-8"))


def test_a_plan_says_which_of_its_sheets_are_offcuts() -> None:
    data = kept("plan.json")
    plan = plan_from_data(data)
    assert {sheet.id: sheet.offcut for sheet in plan.sheets} == {
        "S1": False,
        "O1": True,
        "O2": True,
        "O3": True,
    }
    again = json.loads(json.dumps(plan_to_data(plan, "in")))
    for sheet in again["sheets"]:
        del sheet["offcut"]
    # What a plan says since then besides.
    del again["pace"]
    for group in again["groups"]:
        del group["because"]
    again["totals"] = {key: again["totals"][key] for key in data["totals"]}
    assert again == data


def test_a_figure_of_nought_is_not_known() -> None:
    data = kept("plan.json")
    data["totals"].update(fewest_marks=0, most_different=0)
    totals = plan_from_data(data).totals
    assert (totals.fewest_marks, totals.most_different) == (None, None)
    assert totals.cuts == data["totals"]["cuts"]


def test_a_mend_is_worked_by_as_it_was() -> None:
    data = kept("mended.json")
    mend = event_kept("mended", 1, AT, json.dumps(data)).recovery
    assert mend
    assert (mend.slip, mend.way) == ("torn or smudged", "Get more paper and cut another")
    assert mend.plan.totals.fewest_marks is None
    assert settings(mend.plan) > 0
    assert len(mend.plan.steps) == len(data["plan"]["steps"])


def test_offcuts_put_in_the_stock() -> None:
    event = event_kept("stocked", 1, AT, json.dumps(kept("stocked.json")))
    size = Size(Length.of("21/4", "in"), Length.of(3, "in"))
    assert event.offcuts == (Offcut("ivory card", size, 2),)


def test_a_trimmer() -> None:
    assert trimmer_kept(kept("trimmer.json")) == Trimmer()
