"""How quick the drawer is with 10,000 papers and 20,000 offcuts, and what it makes of 50 projects.

    python -m tests.benchmarks.drawer

Milliseconds, the 95th of 100, and seconds, of one core. A tick is timed
at the workshop held open as at the bench, once without and once with papers from the drawer.
"""

import asyncio
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from tests.app.terminal import REPOSITORY
from tests.benchmarks.at_the_bench import ticks_to_disk
from tests.making.plans import HARBOUR, size
from workbench.craft.project import Project
from workbench.craft.stock import StockPaper, bought
from workbench.craft.trimmer import Trimmer
from workbench.making.possible import possible
from workbench.planning import Watch, make_plan
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.drawer_projects import adopt_papers
from workbench.store.drawer_rows import found, in_order, rows_of
from workbench.store.lots import lot_of, move
from workbench.store.project_file import read_project

PAPERS, OFFCUTS, PROJECTS, TICKS = 10_000, 20_000, 50, 300
SAMPLES = sorted((REPOSITORY / "sample_projects").glob("*.toml"))


def filled(drawer: Drawer) -> None:
    """10,000 papers, two lots of offcuts of each."""
    kite = HARBOUR.papers[1]
    drawer.add_all(
        [
            StockPaper(
                replace(kite, name=f"print {number}", sheets=number % 9),
                lies=f"drawer {number % 40}",
                tags=(f"set {number % 100}",),
            )
            for number in range(PAPERS)
        ]
    )
    with drawer.workshop.writing() as connection:
        for line in drawer.papers():
            for width in range(OFFCUTS // PAPERS):
                lot = lot_of(connection, line.id, size(2 + width, 3))
                move(connection, lot.id, bought(1 + width))


def slowest(work: Callable[[], object], times: int = 100) -> float:
    """The 95th of a hundred, in milliseconds."""
    taken = []
    for _ in range(times):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return 1000 * statistics.quantiles(taken, n=20)[-1]


def searching(drawer: Drawer) -> None:
    rows = rows_of(drawer.listing())
    print(f"{len(rows)} rows")
    words = iter([f"print {number} set" for number in range(200)])
    print(f"search {slowest(lambda: found(rows, next(words))):.1f} ms")
    print(f"sorting by most free {slowest(lambda: in_order(rows, 'most free'), 20):.1f} ms")
    print(f"reading all {slowest(lambda: rows_of(drawer.listing()), 20):.0f} ms")


async def opening() -> None:
    """The screen from the key until all rows are there, and a letter until they are fewer."""
    from textual.widgets import Input

    from workbench.app.app import TrimtallyApp
    from workbench.app.widgets.stock_list import StockList

    app = TrimtallyApp()
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(2)
        begun = time.process_time()
        await pilot.press("d")
        while not (found_list := app.screen.query(StockList)) or not found_list.first().at_hand:
            await pilot.pause(0.005)
        print(f"opening the screen {1000 * (time.process_time() - begun):.0f} ms")
        field = app.screen.query_one(Input)
        taken = []
        for typed in ("print", "print 12", "print 123", "set 4", "offcut 77", "") * 5:
            begun = time.process_time()
            field.value = typed
            await pilot.pause()
            taken.append(1000 * (time.process_time() - begun))
        print(f"a search until it is shown {statistics.quantiles(taken, n=20)[-1]:.0f} ms")


def making(drawer: Drawer) -> None:
    projects: list[Project] = []
    for number in range(PROJECTS):
        project = read_project(SAMPLES[number % len(SAMPLES)])
        scarce = number % 3 == 2
        papers = tuple(
            replace(paper, sheets=paper.sheets // 2 if scarce else 2 * paper.sheets)
            for paper in project.papers
        )
        projects.append(replace(project, papers=papers, title=f"{project.title} {number}"))
    begun, first = time.process_time(), 0.0
    for number, _ in possible(projects, Trimmer(), Watch()):
        first = first or time.process_time() - begun
        del number
    taken = time.process_time() - begun
    print(f"what can I make, {PROJECTS} projects: {taken:.1f} s, the first after {first:.2f} s")


def ticking(folder: Path) -> None:
    """Two batches of a sample, of which the second draws on the drawer."""
    project = read_project(REPOSITORY / "sample_projects" / "choir_invitations.toml")
    plan = make_plan(replace(project, card=replace(project.card, count=500)))
    for name in ("without", "with"):
        drawer = Drawer(Workshop.open(folder / name))
        drawn = adopt_papers(drawer, project) if name == "with" else project
        drawer.workshop.create_batch(drawn, None, plan)
        taken = ticks_to_disk(drawer.workshop, TICKS)
        used = sum(line.counts.used for line in drawer.papers())
        p95 = 1000 * statistics.quantiles(taken, n=20)[-1]
        print(f"a tick {name} the drawer {p95:.2f} ms, {used} sheets used")


def main() -> None:
    print(f"{datetime.now(UTC):%Y-%m-%d}")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TRIMTALLY_HOME"] = folder
        drawer = Drawer(Workshop.open(Path(folder)))
        filled(drawer)
        searching(drawer)
        asyncio.run(opening())
        making(drawer)
        ticking(Path(folder))


if __name__ == "__main__":
    main()
