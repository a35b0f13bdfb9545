"""How long a tick takes to be on disk, and a key to be painted, in milliseconds.

    python -m tests.benchmarks.at_the_bench [TICKS]

The tick is timed at the workshop; the key through a pseudo-terminal, from the press until the
next step stands on the screen, the time to read the screen included.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from tests.app.terminal import REPOSITORY, Terminal
from workbench.making.events import Event
from workbench.planning.planner import make_plan
from workbench.store.project_file import read_project
from workbench.store.workshop import Workshop

_SAMPLE = REPOSITORY / "sample_projects" / "choir_invitations.toml"


def ticks_to_disk(workshop: Workshop, batch_id: int, ticks: int) -> list[float]:
    taken = []
    for step in range(1, ticks + 1):
        begun = time.perf_counter()
        workshop.append(batch_id, Event("ticked", step, datetime.now(UTC)), step)
        taken.append(time.perf_counter() - begun)
    return taken


def keys_to_paint(home: Path, ticks: int) -> list[float]:
    taken = []
    with Terminal(home) as app:
        app.wait_for("Resume")
        app.press("\r")
        app.wait_for("step 1 of")
        for step in range(2, ticks + 2):
            begun = time.perf_counter()
            app.press(" ")
            app.wait_for(f"step {step} of")
            taken.append(time.perf_counter() - begun)
    return taken


def row(name: str, taken: Sequence[float], aim: int) -> str:
    cuts = statistics.quantiles(taken, n=100)
    said = "  ".join(f"p{at} {1000 * cuts[at - 1]:6.1f}" for at in (50, 95, 99))
    return f"{name:20} {said}   aim p95 {aim}"


def main(ticks: int) -> None:
    project = read_project(_SAMPLE)
    plan = make_plan(project)
    with tempfile.TemporaryDirectory() as folder:
        disk, screen = Path(folder, "disk"), Path(folder, "screen")
        for home in (disk, screen):
            Workshop.open(home).create_batch(project, None, plan)
        print(row("tick to disk, ms", ticks_to_disk(Workshop.open(disk), 1, ticks), 20))
        print(row("key to paint, ms", keys_to_paint(screen, ticks), 50))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
