"""What the planner reaches, measured: published problems, samples, random batches, rectpack.

    nice python -m tests.benchmarks.planning [--batches N] [--first SEED] [--jobs N]
                                             [--minutes M] [--quick] [--markdown FILE]

The tables are printed; --markdown writes them for DEVELOPERS.md as well. --minutes ends the random
batches after that time, and the tables say how many there were; --jobs measures several at once.
Seconds are those of the one processor core at work: other work on the machine does not count.
"""

import argparse
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from tests.benchmarks.comparison import Measured, measured, table_beside, table_of_batches
from tests.benchmarks.growth import FEW_SIZES, SIZES, growth
from tests.benchmarks.published import published
from tests.benchmarks.samples import samples
from tests.benchmarks.tables import Table

BATCHES, A_FEW = 300, 5


def random_batches(seeds: range, jobs: int, minutes: float) -> Iterator[Measured]:
    """Measure the batches of the seeds, telling of each, as long as there is time."""
    last = time.monotonic() + 60 * minutes
    with ProcessPoolExecutor(jobs) as pool:
        for one in pool.map(measured, seeds):
            beside = one.beside
            print(
                f"batch {one.seed}: {one.cards} cards, {one.sheets} sheets of at least "
                f"{one.fewest}, {one.seconds:.1f} s; {beside.cards} cards, "
                f"{beside.sheets} sheets of at least {beside.fewest}, rectpack {beside.packed}",
                file=sys.stderr,
                flush=True,
            )
            yield one
            if time.monotonic() > last:
                pool.shutdown(cancel_futures=True)
                return


def tables(seeds: range, jobs: int, minutes: float, *, quick: bool) -> Iterator[Table]:
    # First of all: a process begins with the peak of memory of the one that starts it.
    yield growth(FEW_SIZES, 1) if quick else growth(SIZES)
    yield published()
    yield samples()
    found = list(random_batches(seeds, jobs, minutes))
    yield table_of_batches(found)
    yield table_beside(found)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--batches", type=int, default=None)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--jobs", type=int, default=1)
    asked.add_argument("--minutes", type=float, default=float("inf"))
    asked.add_argument("--quick", action="store_true")
    asked.add_argument("--markdown", type=Path)
    given = asked.parse_args()
    count = given.batches or (A_FEW if given.quick else BATCHES)
    found = []
    seeds = range(given.first, given.first + count)
    for table in tables(seeds, given.jobs, given.minutes, quick=given.quick):
        print(f"\n{table.text()}", flush=True)
        found.append(table.markdown())
    if given.markdown:
        given.markdown.write_text("\n".join(found), encoding="utf-8")


if __name__ == "__main__":
    main()
