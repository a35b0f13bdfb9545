"""How long a card takes to draw: one as large as the screen, and sixty thumbnails.

    python -m tests.benchmarks.redraw [TIMES]

Processor time, from the project to the text that is shown; the median and the 95th percentile.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from workbench.craft.project import Project
from workbench.drawing.cards import a_mix, draw_card
from workbench.store.project_file import read_project

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "regatta_thanks.toml"
LARGE, THUMBNAIL, THUMBNAILS = (200, 60), (14, 9), 60


def milliseconds(draw: Callable[[], object], times: int) -> list[float]:
    taken = []
    for _ in range(times):
        begun = time.process_time()
        draw()
        taken.append((time.process_time() - begun) * 1000)
    return taken


def full_screen(project: Project) -> None:
    draw_card(project, a_mix(project), *LARGE).to_text()


def thumbnails(project: Project) -> None:
    mix = a_mix(project)
    for _ in range(THUMBNAILS):
        draw_card(project, mix, *THUMBNAIL).to_text()


def main(times: int) -> None:
    project = read_project(SAMPLE)
    print(f"{'':<28}{'median':>10}{'95 %':>10}{'limit':>10}")
    for name, draw, limit in (
        ("one card on 200 x 60", full_screen, 30),
        (f"{THUMBNAILS} thumbnails of 14 x 9", thumbnails, 150),
    ):
        taken = milliseconds(lambda draw=draw: draw(project), times)  # type: ignore[misc]
        worst = statistics.quantiles(taken, n=20)[-1]
        print(f"{name:<28}{statistics.median(taken):>7.1f} ms{worst:>7.1f} ms{limit:>7} ms")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100)
