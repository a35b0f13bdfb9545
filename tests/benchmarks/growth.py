"""How the time and the memory of a plan grow with the number of cards, of one design."""

import json
import statistics
import subprocess
import sys
from fractions import Fraction

from tests.benchmarks.tables import Table
from workbench.craft.card import Card, Piece
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length

SIZES = (9, 10, 50, 100, 1_000, 10_000)
FEW_SIZES = (9, 50, 100)
_IN_A_PROCESS = """
import json, resource, time
from tests.benchmarks.growth import design
from workbench.planning.driver import make_plan

project = design({cards})
begun = time.process_time()
plan = make_plan(project)
print(json.dumps([
    time.process_time() - begun,
    resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    plan.totals.sheets,
    plan.totals.fewest_possible,
]))
"""


def design(cards: int) -> Project:
    """An A2 card with a mat, a panel and a band mixed from two prints, and a tag."""

    def size(width: Fraction, height: Fraction) -> Size:
        return Size(Length.of(width, "in"), Length.of(height, "in"))

    def eighths(number: int, count: int = 0) -> Fraction:
        return number + Fraction(count, 8)

    enough = 100_000
    letter, square = size(eighths(8, 4), eighths(11)), size(eighths(12), eighths(12))
    prints = ("wave", "pebble")
    return Project(
        "Measured",
        "in",
        Card(size(eighths(4, 2), eighths(5, 4)), "top", "white", cards),
        (
            Paper("white", "cardstock", letter, enough),
            Paper("wave", "patterned", square, enough, "stripe", (), "up"),
            Paper("pebble", "patterned", square, enough, "dot", (), "up"),
        ),
        (
            Piece("mat", size(eighths(4), eighths(5, 2)), ("white",)),
            Piece("panel", size(eighths(3, 6), eighths(5)), prints),
            Piece("band", size(eighths(3, 6), eighths(1, 1)), prints),
            Piece("tag", size(eighths(1, 6), eighths(2, 4)), ("white",)),
        ),
    )


def growth(sizes: tuple[int, ...] = SIZES, times: int = 3) -> Table:
    """Each plan made in a process of its own, what it loads included; the medians of `times`."""
    table = Table(
        "One design, more and more cards",
        ["cards", "sheets", "fewest possible", "seconds", "peak MB"],
    )
    seconds: dict[int, float] = {}
    for cards in sizes:
        runs = [_run(cards) for _ in range(times)]
        seconds[cards] = statistics.median(run[0] for run in runs)
        memory = max(run[1] for run in runs)
        _, _, sheets, fewest = runs[0]
        table.rows.append(
            [
                f"{cards:,}",
                f"{sheets:.0f}",
                f"{fewest:.0f}",
                f"{seconds[cards]:.2f}",
                f"{memory:.0f}",
            ]
        )
    least, most = (100 if 100 in seconds else sizes[0]), sizes[-1]
    table.notes.append(
        f"{most:,} cards take {seconds[most] / seconds[least]:.2f} times as long as {least:,}."
    )
    return table


def _run(cards: int) -> list[float]:
    code = _IN_A_PROCESS.format(cards=cards)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    found: list[float] = json.loads(done.stdout.splitlines()[-1])
    return found
