"""Mixed batches as makers might order them, invented from a seed, and how few sheets are proven.

    nice python -m tests.benchmarks.mixes [--batches N] [--first SEED]

A batch is four to six papers, one of them plain, and four or five layers, most of them mixed from
three to six prints.
"""

import argparse
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from tests.benchmarks.tables import Table
from workbench.craft.card import Card, Fold, Piece
from workbench.craft.paper import Paper, Run, Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length, Unit
from workbench.planning.driver import Planner
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.sheets.search import SheetSearch

BATCHES = 120
CARDS = (6, 8, 9, 10, 12, 15, 16, 18, 20, 24, 30, 36, 40, 50, 60, 100)
ENOUGH = 10_000
# Sheets in eighths of an inch, or in millimetres: 12 x 12 in, 6 x 6 in, Letter, A4.
SHEETS: tuple[tuple[Unit, int, int], ...] = (
    ("in", 96, 96),
    ("in", 48, 48),
    ("in", 68, 88),
    ("mm", 210, 297),
)
# Least and most of the two sides, in eighths of an inch, from the back to the front.
SHAPES = ((26, 32, 34, 42), (8, 14, 26, 32), (10, 20, 12, 24), (4, 8, 20, 30), (6, 10, 6, 10))


def mix(seed: int) -> Project:
    """The batch of that seed: the same on every machine. Paper is never short."""
    random = Random(seed)
    unit, width, height = random.choice(SHEETS)
    fine = 1 if unit == "in" else 3
    step = Fraction(1, 8) if unit == "in" else Fraction(1)

    def size(across: int, up: int) -> Size:
        return Size(
            Length.of(min(across * fine, width) * step, unit),
            Length.of(min(up * fine, height) * step, unit),
        )

    prints = [f"print {number}" for number in range(1, random.randint(3, 6) + 1)]
    run: Run = random.choice(("none", "none", "up", "along"))
    sheet = Size(Length.of(width * step, unit), Length.of(height * step, unit))
    papers = [Paper("cream", "cardstock", sheet, ENOUGH)]
    papers += [Paper(name, "patterned", sheet, ENOUGH, "dot", (), run) for name in prints]
    pieces = []
    for number in range(random.randint(4, 5)):
        low, high, least, most = SHAPES[number]
        from_all = random.random() < 0.7
        some = random.sample(prints, random.randint(2, len(prints)))
        times = random.choice((1, 1, 1, 2)) if number > 1 else 1
        if random.random() < 0.15:
            some, from_all = ["cream"], False
        pieces.append(
            Piece(
                f"layer {number + 1}",
                size(random.randint(low, high), random.randint(least, most)),
                tuple(prints if from_all else some),
                per_card=times,
                copies="each another",
            )
        )
    fold: Fold = random.choice(("top", "none"))
    fold = fold if height >= 88 * fine else "none"
    card = Card(size(34, 44), fold, "cream", random.choice(CARDS))
    return Project(f"Mix {seed}", unit, card, tuple(papers), tuple(pieces))


@dataclass(frozen=True, slots=True)
class Found:
    """What is found of one batch: how it was eased so that it can be dealt, and its sheets.

    `linear` is the bound that knows no papers apart, `least` the one that does.
    """

    seed: int
    way: str
    sheets: int
    linear: int
    least: int
    seconds: float
    because: tuple[str, ...]


def eased(project: Project) -> tuple[list[SheetSearch], str]:
    """The searches of a project as it is; where it is refused, with copies alike, or repeats."""
    alike = tuple(replace(piece, copies="alike") for piece in project.pieces)
    repeating = replace(project, mixing=replace(project.mixing, repeat=True))
    for way, asked in (
        ("as it is", project),
        ("copies alike", replace(project, pieces=alike)),
        ("prints repeated", repeating),
    ):
        try:
            return Planner(asked, Trimmer(), Watch()).searches(), way
        except PlanningError:
            continue
    return [], "refused"


def found(seed: int) -> Found:
    """Cut the batch of that seed into the fewest sheets."""
    searches, way = eased(mix(seed))
    linear = sum(search.bound.sheets or 0 for search in searches)
    begun = time.process_time()
    because = tuple(filter(None, (search.least.because for search in searches)))
    seconds = time.process_time() - begun
    cuttings = [search.fewest() for search in searches]
    sheets = sum(cutting.sheets for cutting in cuttings)
    least = sum(cutting.fewest for cutting in cuttings)
    return Found(seed, way, sheets, linear, least, seconds, because)


def table_of(all_found: Sequence[Found]) -> Table:
    """How many are refused, how many proven, and what the bound takes."""
    ways = Counter(one.way for one in all_found)
    planned = [one for one in all_found if one.way != "refused"]
    seconds = sorted(one.seconds for one in planned)
    heads = ["batches", *ways, "proven", "by the linear bound alone", "bound median s", "worst s"]
    row = [
        *map(str, (len(all_found), *ways.values())),
        str(sum(one.sheets == one.least for one in planned)),
        str(sum(one.sheets == one.linear for one in planned)),
        f"{seconds[len(seconds) // 2]:.2f}",
        f"{seconds[-1]:.2f}",
    ]
    table = Table("Random mixes", heads, [row])
    unproven = [str(one.seed) for one in planned if one.sheets > one.least]
    if unproven:
        table.notes.append(f"Not proven: batches {', '.join(unproven)}.")
    why = Counter(words for one in planned for words in one.because)
    table.notes += [f"{count} times: {words}." for words, count in why.most_common()]
    return table


def main() -> None:
    """Cut the batches and print a table."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--batches", type=int, default=BATCHES)
    given.add_argument("--first", type=int, default=1)
    told = given.parse_args()
    seeds = range(told.first, told.first + told.batches)
    print(table_of([found(seed) for seed in seeds]).text())


if __name__ == "__main__":
    main()
