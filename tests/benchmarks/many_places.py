"""The best single sheets of 3000 by 3000 with 32 kinds of piece, invented from a seed."""

import json
import subprocess
import sys
from random import Random

from tests.benchmarks.tables import Table
from workbench.planning.bound.guillotine_dp import ValuedRectangle

SIDE, KINDS = 3000, 32
SIZES = ((50, 500), (100, 1000), (200, 1500))
# What a piece is worth, in hundredths of its area: all the same, or between these.
WORTHS = ((100, 100), (75, 100), (30, 100))
_IN_A_PROCESS = """
import json, resource, time
from tests.benchmarks.many_places import SIDE, kinds
from tests.planning.parts import best_sheet

begun = time.process_time()
value, _ = best_sheet(SIDE, SIDE, kinds({sizes}, {worths}), turning=False)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(json.dumps([value, time.process_time() - begun, peak]))
"""


def kinds(sizes: tuple[int, int], worths: tuple[int, int]) -> list[ValuedRectangle]:
    """Pieces with sides of such sizes, the same on every machine."""
    random = Random(1)
    shapes = [(random.randint(*sizes), random.randint(*sizes)) for _ in range(KINDS)]
    return [
        ValuedRectangle(number, w, h, w * h * random.randint(*worths) // 100)
        for number, (w, h) in enumerate(shapes)
    ]


def many_places() -> Table:
    """Each in a process of its own, what it loads included."""
    table = Table(
        f"One sheet of {SIDE} x {SIDE} and {KINDS} kinds of piece",
        ["sides", "worth of the area, %", "best value", "seconds", "peak MB"],
    )
    for sizes in SIZES:
        for worths in WORTHS:
            code = _IN_A_PROCESS.format(sizes=sizes, worths=worths)
            run = subprocess.run(
                [sys.executable, "-c", code], check=True, capture_output=True, text=True
            )
            value, seconds, peak = json.loads(run.stdout)
            table.rows.append(
                [
                    f"{sizes[0]} to {sizes[1]}",
                    f"{worths[0]} to {worths[1]}",
                    str(value),
                    f"{seconds:.2f}",
                    f"{peak:.0f}",
                ]
            )
    return table
