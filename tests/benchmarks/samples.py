"""The plans of the sample projects in figures, with sheets stacked as usual and one at a time."""

import time
from pathlib import Path

from tests.benchmarks.tables import Table
from tests.planning.checker import plan_faults
from workbench.craft.trimmer import Trimmer
from workbench.planning.driver import make_plan
from workbench.planning.result import settings
from workbench.store.project_file import read_project

FOLDER = Path(__file__).parents[2] / "sample_projects"


ONE_AT_A_TIME = Trimmer(at_once={"patterned": 1, "cardstock": 1, "vellum": 1, "other": 1})


def samples() -> Table:
    """Every sample, planned and checked. Raises AssertionError where a plan has faults."""
    table = Table(
        "Sample projects",
        [
            *("sample", "stacked", "cards", "sheets", "fewest possible"),
            *("marks", "settings", "strokes", "seconds"),
        ],
    )
    for path in sorted(FOLDER.glob("*.toml")):
        project = read_project(path)
        for stacked, trimmer in (("yes", Trimmer()), ("no", ONE_AT_A_TIME)):
            begun = time.process_time()
            plan = make_plan(project, trimmer)
            seconds = time.process_time() - begun
            faults = plan_faults(project, plan, trimmer)
            if faults:
                raise AssertionError(f"{path.stem}: {faults[0]}")
            totals = plan.totals
            sheets = plan.cards, totals.sheets, totals.fewest_possible
            work = totals.marks, settings(plan), totals.cuts
            figures = (*sheets, *work, f"{seconds:.2f}")
            table.rows.append([path.stem, stacked, *map(str, figures)])
    return table
