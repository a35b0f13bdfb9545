"""How long a printed guide takes, beyond planning, in a process that never made one before.

    python -m tests.benchmarks.guides [TIMES]

Seconds are those that pass from the plan to the finished PDF, imports and fonts included; the
medians are printed, with what is asked of them: 1 s for nine cards, 5 s for forty pages.
"""

import statistics
import subprocess
import sys

_TIMED = """
import time
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from pypdf import PdfReader
from workbench.planning import make_plan
from workbench.store.project_file import read_project

project = read_project(Path("sample_projects/regatta_thanks.toml"))
plan = make_plan(project)
begun = time.perf_counter()
from workbench.making.plan_index import PlanIndex
from workbench.publish.pages import pdf
from workbench.publish.writer import make_recipe

recipe = make_recipe(PlanIndex(project, plan))
for part in ("sheets", "settings", "looks", "layers", "papers"):
    recipe = replace(recipe, **{{part: getattr(recipe, part) * {times}}})
made = pdf(recipe, "Letter")
taken = time.perf_counter() - begun
print(taken, len(PdfReader(BytesIO(made)).pages))
"""


def measured(times: int) -> tuple[float, int]:
    """Seconds and pages of the guide of nine cards with its long parts so many `times` over."""
    code = _TIMED.format(times=times)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    seconds, pages = done.stdout.split()[-2:]
    return float(seconds), int(pages)


def main(times: int) -> None:
    """Print the medians of so many runs of each."""
    for parts, most in ((1, 1.0), (20, 5.0)):
        runs = [measured(parts) for _ in range(times)]
        seconds = statistics.median(each for each, _ in runs)
        print(
            f"{runs[0][1]} pages: {seconds:.2f} s, {seconds / most:.2f} of the {most:.0f} s asked"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if sys.argv[1:] else 3)
