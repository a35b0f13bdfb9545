"""Random batches of cards: what their plans use, and what rectpack uses for the same pieces."""

import statistics
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from tests.benchmarks.batches import batch, scaled
from tests.benchmarks.tables import Table
from tests.benchmarks.yardstick import Shape, best_packing
from tests.planning.checker import plan_faults
from workbench.craft.card import BASE
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import TICKS_PER_MM
from workbench.planning.driver import make_plan
from workbench.planning.result import Plan

MOST_PIECES = 200
Deal = Mapping[str, Counter[str]]


@dataclass(frozen=True, slots=True)
class Beside:
    """The sheets and the seconds of ours and of rectpack's, for as many cards as rectpack can."""

    cards: int
    sheets: int
    fewest: int
    seconds: float
    packed: int
    packing_seconds: float


@dataclass(frozen=True, slots=True)
class Measured:
    """One batch: its plan, and how that of a batch as large as rectpack can pack compares."""

    seed: int
    cards: int
    sheets: int
    fewest: int
    seconds: float
    beside: Beside

    @property
    def proven(self) -> bool:
        return self.sheets == self.fewest


def measured(seed: int, most_pieces: int = MOST_PIECES) -> Measured:
    """Plan a batch and pack it. Raises AssertionError where a plan has faults."""
    project = batch(seed)
    plan, seconds = _planned(project)
    smaller = scaled(project, most_pieces)
    alike = _planned(smaller) if smaller != project else (plan, seconds)
    totals = plan.totals
    return Measured(
        seed,
        plan.cards,
        totals.sheets,
        totals.fewest_possible,
        seconds,
        _beside(smaller, *alike),
    )


def _planned(project: Project) -> tuple[Plan, float]:
    begun = time.process_time()
    plan = make_plan(project)
    seconds = time.process_time() - begun
    faults = plan_faults(project, plan)
    if faults:
        raise AssertionError(f"{project.title}: {faults[0]}")
    return plan, seconds


def _beside(project: Project, plan: Plan, seconds: float) -> Beside:
    """rectpack knows no papers: it gets the pieces of each, dealt as we deal them and evenly."""
    begun = time.process_time()
    used = Counter(sheet.paper for sheet in plan.sheets)
    packed = _packed(project, _as_planned(plan), used if plan.totals.proven else {})
    if packed > plan.totals.fewest_possible:
        packed = min(packed, _packed(project, _evenly(project), {}))
    return Beside(
        project.card.count,
        plan.totals.sheets,
        plan.totals.fewest_possible,
        seconds,
        packed,
        time.process_time() - begun,
    )


def _packed(project: Project, deal: Deal, enough: Mapping[str, int]) -> int:
    shapes = {BASE: _shape(project.card.base_size)}
    shapes |= {piece.name: _shape(piece.size) for piece in project.pieces}
    sheets = 0
    for name, pieces in deal.items():
        paper = project.paper(name)
        demand: Counter[Shape] = Counter()
        for piece, count in pieces.items():
            demand[shapes[piece]] += count
        best = best_packing(
            _shape(paper.size), demand, turning=paper.turns, enough=enough.get(name, 0)
        )
        sheets += best.sheets
    return sheets


def _shape(size: Size) -> Shape:
    return int(size.width.mm * TICKS_PER_MM), int(size.height.mm * TICKS_PER_MM)


def _as_planned(plan: Plan) -> Deal:
    deal: dict[str, Counter[str]] = defaultdict(Counter)
    for sheet in plan.sheets:
        deal[sheet.paper].update(part.piece for part in sheet.parts if part.piece)
    return deal


def _evenly(project: Project) -> Deal:
    """Every piece from each of its papers as often, what is over from one after the other."""
    deal: dict[str, Counter[str]] = defaultdict(Counter)
    deal[project.card.paper][BASE] = project.card.count
    for number, piece in enumerate(project.pieces):
        copies = project.card.count * piece.per_card
        for place, paper in enumerate(piece.papers):
            over = (place - number) % len(piece.papers) < copies % len(piece.papers)
            deal[paper][piece.name] += copies // len(piece.papers) + over
    return deal


def table_of_batches(found: Sequence[Measured]) -> Table:
    """How the plans of batches of every size do."""
    table = Table(
        "Random batches",
        [
            "cards",
            "batches",
            "proven",
            "sheets",
            "fewest possible",
            "median s",
            "95 % s",
            "worst s",
        ],
    )
    for least, most in ((10, 50), (51, 500), (501, 10_000), (10, 10_000)):
        mine = [one for one in found if least <= one.cards <= most]
        if mine:
            table.rows.append([f"{least} to {most}", *_summary(mine)])
    open_ones = [str(one.seed) for one in found if not one.proven]
    if open_ones:
        table.notes.append(f"Not proven: batches {', '.join(open_ones)}.")
    return table


def _summary(found: Sequence[Measured]) -> Iterator[str]:
    seconds = sorted(one.seconds for one in found)
    proven = sum(one.proven for one in found)
    yield str(len(found))
    yield f"{proven} ({100 * proven / len(found):.1f} %)"
    yield str(sum(one.sheets for one in found))
    yield str(sum(one.fewest for one in found))
    yield f"{statistics.median(seconds):.2f}"
    yield f"{seconds[-(-len(seconds) * 95 // 100) - 1]:.2f}"
    yield f"{seconds[-1]:.2f}"


def table_beside(found: Sequence[Measured]) -> Table:
    """The same batches, packed by rectpack."""
    table = Table(
        "Beside rectpack's guillotine packers",
        [
            "batches",
            "ours fewer",
            "equal",
            "ours more",
            "our sheets",
            "its sheets",
            "our s",
            "its s",
        ],
    )
    for title, mine in _kinds(found):
        sides = [one.beside for one in mine]
        fewer = sum(side.sheets < side.packed for side in sides)
        more = sum(side.sheets > side.packed for side in sides)
        table.rows.append(
            [
                f"{len(sides)} {title}",
                f"{fewer} ({100 * fewer / len(sides):.0f} %)",
                str(len(sides) - fewer - more),
                str(more),
                str(sum(side.sheets for side in sides)),
                str(sum(side.packed for side in sides)),
                f"{statistics.median(side.seconds for side in sides):.2f}",
                f"{statistics.median(side.packing_seconds for side in sides):.2f}",
            ]
        )
    table.notes += [
        "The best of all its settings, every order and every way to choose a sheet, until one is "
        "seen to need no more sheets than are possible. Packings that cannot be cut from edge to "
        "edge do not count. Seconds are medians of a batch.",
        "A larger batch is compared with fewer cards of the same design, so that no more than "
        f"{MOST_PIECES} pieces are packed.",
    ]
    worse = [str(one.seed) for one in found if one.beside.sheets > one.beside.packed]
    if worse:
        table.notes.append(f"Ours uses more: batches {', '.join(worse)}.")
    return table


def _kinds(found: Sequence[Measured]) -> Iterator[tuple[str, Sequence[Measured]]]:
    whole = [one for one in found if one.beside.cards == one.cards]
    parts = [one for one in found if one.beside.cards < one.cards]
    for title, mine in (("at their size", whole), ("made smaller", parts), ("in all", found)):
        if mine:
            yield title, mine
