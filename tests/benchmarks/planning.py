"""What the planner reaches, measured: published problems, samples, random batches, rectpack.

    nice python -m tests.benchmarks.planning [--batches N] [--first SEED] [--jobs N]
                                             [--minutes M] [--record FILE] [--quick]
                                             [--markdown FILE]

The tables are printed; --markdown writes them for DEVELOPERS.md as well. --minutes ends the random
batches after that time, and the tables say how many there were; --jobs measures several at once.
--record keeps every batch measured in a file, a line each: what is there is not measured again.
Seconds are those of the one processor core at work: other work on the machine does not count.
"""

import argparse
import json
import sys
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict
from pathlib import Path

from tests.benchmarks.comparison import Beside, Measured, measured, table_beside, table_of_batches
from tests.benchmarks.few_cards import few_cards
from tests.benchmarks.growth import FEW_SIZES, SIZES, growth
from tests.benchmarks.many_places import many_places
from tests.benchmarks.published import published
from tests.benchmarks.samples import samples
from tests.benchmarks.tables import Table

BATCHES, A_FEW = 300, 5


def random_batches(seeds: Sequence[int], jobs: int, minutes: float) -> Iterator[Measured]:
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


def recorded(file: Path) -> dict[int, Measured]:
    """The batches that the file holds, by seed."""
    lines = file.read_text(encoding="utf-8").splitlines() if file.exists() else []
    kept = [json.loads(line) for line in lines]
    return {one["seed"]: Measured(**one | {"beside": Beside(**one["beside"])}) for one in kept}


def batches(seeds: range, jobs: int, minutes: float, file: Path | None) -> list[Measured]:
    """The batches of the seeds, from the file if they stand there, which is added to."""
    found = recorded(file) if file else {}
    missing = [seed for seed in seeds if seed not in found]
    for one in random_batches(missing, jobs, minutes):
        found[one.seed] = one
        if file:
            with file.open("a", encoding="utf-8") as record:
                record.write(f"{json.dumps(asdict(one))}\n")
    return [found[seed] for seed in seeds if seed in found]


def tables(
    seeds: range, jobs: int, minutes: float, file: Path | None, *, quick: bool
) -> Iterator[Table]:
    # First of all: a process begins with the peak of memory of the one that starts it.
    yield growth(FEW_SIZES, 1) if quick else growth(SIZES)
    yield many_places()
    yield published()
    yield samples()
    yield few_cards(seeds[:100])
    found = batches(seeds, jobs, minutes, file)
    yield table_of_batches(found)
    yield table_beside(found)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--batches", type=int, default=None)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--jobs", type=int, default=1)
    asked.add_argument("--minutes", type=float, default=float("inf"))
    asked.add_argument("--record", type=Path)
    asked.add_argument("--quick", action="store_true")
    asked.add_argument("--markdown", type=Path)
    given = asked.parse_args()
    count = given.batches or (A_FEW if given.quick else BATCHES)
    found = []
    seeds = range(given.first, given.first + count)
    for table in tables(seeds, given.jobs, given.minutes, given.record, quick=given.quick):
        print(f"\n{table.text()}", flush=True)
        found.append(table.markdown())
    if given.markdown:
        given.markdown.write_text("\n".join(found), encoding="utf-8")


if __name__ == "__main__":
    main()
