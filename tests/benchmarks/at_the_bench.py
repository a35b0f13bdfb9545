"""How long a tick takes to be on disk, a key to be painted, and a batch to be there again.

    python -m tests.benchmarks.at_the_bench [TICKS]

Milliseconds. The tick is timed at the workshop, held open as at the bench; the key through a
pseudo-terminal, from the press until the next step is written there, with the processor time that
the app takes for it. Reopening is timed from the start of the program to its start page, and from
there to the step at hand of a batch of hundreds of cards, a thousand ticks on.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from tests.app.terminal import REPOSITORY, Terminal
from workbench.craft.project import Project
from workbench.making.events import Event
from workbench.planning.driver import make_plan
from workbench.store.database import Workshop
from workbench.store.project_file import read_project

_SAMPLE = REPOSITORY / "sample_projects" / "choir_invitations.toml"
_SIZES = ((80, 24), (120, 40))
_MANY_CARDS, _MANY_TICKS = 500, 1000
_PAUSE = 0.1  # between two keys, so that each is timed alone


def ticks_to_disk(workshop: Workshop, ticks: int) -> list[float]:
    taken = []
    with workshop.held():
        for step in range(1, ticks + 1):
            begun = time.perf_counter()
            workshop.append(1, Event("ticked", step, datetime.now(UTC)), step)
            taken.append(time.perf_counter() - begun)
    return taken


def keys_to_paint(home: Path, ticks: int, size: tuple[int, int]) -> tuple[list[float], list[float]]:
    """Seconds from key to paint, and processor seconds of the app for each."""
    taken, worked = [], []
    with Terminal(home, columns=size[0], rows=size[1]) as app:
        app.wait_for("Resume")
        app.press("\r")
        app.wait_for("step 1 of")
        for step in range(2, ticks + 2):
            app.look(_PAUSE)
            before, begun = app.processor_seconds, time.perf_counter()
            app.press(" ")
            taken.append(app.painted(f"step {step} of") - begun)
            worked.append(app.processor_seconds - before)
    return taken, worked


def reopenings(home: Path, times: int) -> tuple[list[float], list[float]]:
    """Seconds from the start of the program to its start page, and from there to the step."""
    started, resumed = [], []
    for _ in range(times):
        begun = time.perf_counter()
        with Terminal(home) as app:
            started.append(app.painted("Resume") - begun)
            app.look(_PAUSE)
            begun = time.perf_counter()
            app.press("\r")
            resumed.append(app.painted(f"step {_MANY_TICKS + 1} of") - begun)
    return started, resumed


def row(name: str, taken: Sequence[float], aim: int) -> str:
    cuts = statistics.quantiles(taken, n=100)
    said = "  ".join(f"p{at} {1000 * cuts[at - 1]:7.1f}" for at in (50, 95, 99))
    return f"{name:34} {said}   aim p95 {aim}"


def begun(home: Path, project: Project, ticks: int = 0) -> Workshop:
    """A workshop at `home` with one batch, the first `ticks` of it done."""
    workshop = Workshop.open(home)
    workshop.create_batch(project, None, make_plan(project))
    with workshop.held():
        for step in range(1, ticks + 1):
            workshop.append(1, Event("ticked", step, datetime.now(UTC)), step)
    return workshop


def main(ticks: int) -> None:
    project = read_project(_SAMPLE)
    many = replace(project, card=replace(project.card, count=_MANY_CARDS))
    many = replace(many, papers=tuple(replace(p, sheets=9 * _MANY_CARDS) for p in many.papers))
    with tempfile.TemporaryDirectory() as folder:
        print(row("tick to disk", ticks_to_disk(begun(Path(folder, "disk"), project), ticks), 20))
        for size in _SIZES:
            home = Path(folder, str(size[0]))
            begun(home, project)
            taken, worked = keys_to_paint(home, ticks, size)
            name = "{} x {}".format(*size)
            print(row(f"key to paint, {name}", taken, 50))
            print(row(f"  processor time, {name}", worked, 50))
        home = Path(folder, "many")
        begun(home, many, _MANY_TICKS)
        started, resumed = reopenings(home, 10)
        print(row("program to start page", started, 1000))
        print(row(f"resume {_MANY_CARDS} cards, {_MANY_TICKS} ticks", resumed, 1000))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
