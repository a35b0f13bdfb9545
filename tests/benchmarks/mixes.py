"""Mixed batches as makers might order them, invented from a seed, and what their plans prove.

    nice python -m tests.benchmarks.mixes [--batches N] [--first SEED]

A batch is four to six papers, one of them plain, and four or five layers, most of them mixed from
three to six prints.
"""

import argparse
import time
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random

from tests.benchmarks.tables import Table
from tests.planning.checker import plan_faults
from workbench.craft.card import Card, Fold, Piece
from workbench.craft.paper import Paper, Run, Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.planning.driver import make_plan
from workbench.planning.progress import PlanningError
from workbench.planning.result import Plan

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


def eased(project: Project) -> tuple[Project, Plan | None, str]:
    """The project as it is; where it is refused, with copies alike; then with prints repeated.

    Gives its plan, or None, and what was eased.
    """
    alike = tuple(replace(piece, copies="alike") for piece in project.pieces)
    repeating = replace(project, mixing=replace(project.mixing, repeat=True))
    for way, asked in (
        ("as it is", project),
        ("copies alike", replace(project, pieces=alike)),
        ("prints repeated", repeating),
    ):
        try:
            return asked, make_plan(asked), way
        except PlanningError:
            continue
    return project, None, "refused"


def main() -> None:
    """Plan the batches and print a table."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("--batches", type=int, default=BATCHES)
    given.add_argument("--first", type=int, default=1)
    told = given.parse_args()
    ways: Counter[str] = Counter()
    seconds, unproven, why = [], [], Counter[str]()
    for seed in range(told.first, told.first + told.batches):
        begun = time.process_time()
        asked, plan, way = eased(mix(seed))
        seconds.append(time.process_time() - begun)
        ways[way] += 1
        if plan is None:
            continue
        faults = plan_faults(asked, plan)
        if faults:
            raise AssertionError(f"{asked.title}: {faults[0]}")
        why.update(filter(None, (getattr(group, "because", None) for group in plan.groups)))
        if not plan.totals.proven:
            unproven.append(f"{seed} ({plan.totals.sheets}, {plan.totals.fewest_possible})")
    seconds.sort()
    table = Table("Random mixes", ["batches", *ways, "proven", "median s", "95 % s", "worst s"])
    planned = len(seconds) - ways["refused"]
    timed = (seconds[len(seconds) // 2], seconds[len(seconds) * 95 // 100], seconds[-1])
    row = [str(len(seconds)), *map(str, ways.values()), f"{planned - len(unproven)} of {planned}"]
    table.rows.append([*row, *(f"{each:.2f}" for each in timed)])
    if unproven:
        table.notes.append(f"Not proven (sheets, fewest possible): {', '.join(unproven)}.")
    table.notes += [f"{count} × {words}" for words, count in why.most_common()]
    print(table.text())


if __name__ == "__main__":
    main()
