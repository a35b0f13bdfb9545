"""The plans of the sample projects in figures."""

import time
from pathlib import Path

from tests.benchmarks.tables import Table
from tests.planning.checker import plan_faults
from workbench.planning.plan import settings
from workbench.planning.planner import make_plan
from workbench.store.project_file import read_project

FOLDER = Path(__file__).parents[2] / "sample_projects"


def samples() -> Table:
    """Every sample, planned and checked. Raises AssertionError where a plan has faults."""
    table = Table(
        "Sample projects",
        ["sample", "cards", "sheets", "fewest possible", "marks", "settings", "strokes", "seconds"],
    )
    for path in sorted(FOLDER.glob("*.toml")):
        project = read_project(path)
        begun = time.process_time()
        plan = make_plan(project)
        seconds = time.process_time() - begun
        faults = plan_faults(project, plan)
        if faults:
            raise AssertionError(f"{path.stem}: {faults[0]}")
        totals = plan.totals
        counts = (plan.cards, totals.sheets, totals.fewest_possible, totals.marks, settings(plan))
        table.rows.append([path.stem, *map(str, counts), str(totals.cuts), f"{seconds:.2f}"])
    return table
