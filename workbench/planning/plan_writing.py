"""From cuttings that are decided to the plan: steps, combinations, totals, what is short."""

import gc
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from workbench.craft.pace import Pace
from workbench.craft.project import Project
from workbench.planning.cuts.cut_steps import CutSteps, PileCuts
from workbench.planning.finishing import with_own_steps
from workbench.planning.instance.instance import Instance
from workbench.planning.layouts.tree import Layout, leaves
from workbench.planning.mixing.deal import deal
from workbench.planning.progress import Watch
from workbench.planning.result import Group, Plan, Shortage, Totals
from workbench.planning.sheets.cutting import Cutting
from workbench.planning.sheets.search import SheetSearch
from workbench.planning.shortage import bought


@dataclass(frozen=True, slots=True)
class Draft:
    """A batch as far as it is decided: what is asked, and how each subproblem is cut.

    `searches` and `cuttings` have one for each group of the `instance`, in its order. What paper
    is short of counts as bought in `instance`; `makeable` says how many cards could be made
    without. Less than `least_seconds` at the table, and fewer marks than `fewest_marks`, are ruled
    out (None: not known).
    """

    instance: Instance
    searches: Sequence[SheetSearch]
    cuttings: Sequence[Cutting]
    makeable: int
    started: float
    least_seconds: int | None = None
    fewest_marks: int | None = None

    @property
    def layouts(self) -> list[Layout]:
        """Those of all cuttings."""
        return [layout for cutting in self.cuttings for layout in cutting.layouts]

    def __str__(self) -> str:
        sheets = ", ".join(f"{c.sheets} sheets (bound {c.fewest})" for c in self.cuttings)
        marks = len(frozenset[int]().union(*(cutting.marks for cutting in self.cuttings)))
        strokes = sum(
            search.strokes(cutting.layouts)
            for search, cutting in zip(self.searches, self.cuttings, strict=True)
        )
        return f"{sheets}; {marks} marks, {strokes} strokes"


def write_plan(project: Project, draft: Draft, cuts: PileCuts, pace: Pace, watch: Watch) -> Plan:
    """The plan that makes `cuts`, in which the draft's cuttings are put in order.

    Raises:
        PlanningError: what is cut cannot be dealt to the cards.
        Cancelled: `watch` stopped it.
    """
    layouts = cuts.layouts
    watch.stage("mixing the prints")
    count = project.card.count
    cut = _cut_from(layouts, draft.instance.names)
    dealt = deal(project, count, cut, watch, draft.instance.counts)
    combinations = dealt.combinations
    with _uncollected():
        work = CutSteps(draft.instance, cuts)
        steps = with_own_steps(project, work.sheets, work.steps, combinations)
    groups = tuple(
        Group(
            tuple(supply.paper for supply in group.supplies),
            cutting.sheets,
            cutting.fewest,
            cutting.because,
        )
        for group, cutting in zip(draft.instance.groups, draft.cuttings, strict=True)
    )
    totals = Totals(
        sheets=sum(group.sheets for group in groups),
        fewest_possible=sum(group.fewest_possible for group in groups),
        cuts=len(work.steps),
        marks=cuts.marks,
        fewest_settings=cuts.fewest_settings,
        most_different=dealt.most,
        least_table_seconds=draft.least_seconds,
        fewest_marks=draft.fewest_marks,
        seconds=round(time.monotonic() - draft.started, 3),
    )
    shortages = tuple(_short_of(project, bought(layouts)))
    return Plan(
        project.title,
        count,
        totals,
        groups,
        shortages,
        tuple(work.sheets),
        steps,
        combinations,
        draft.makeable if shortages else count,
        pace,
    )


def _short_of(project: Project, opened: Mapping[str, int]) -> Iterator[Shortage]:
    for paper, sheets in sorted(opened.items()):
        if sheets > project.paper(paper).sheets:
            yield Shortage(paper, sheets - project.paper(paper).sheets)


@contextmanager
def _uncollected() -> Iterator[None]:
    """While tens of thousands of part ids are made, the collector would look at all in vain.

    It does so later only when it looks at what is old: frozen and thawed is old at once.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.unfreeze()
        if was:
            gc.enable()


def _cut_from(layouts: Sequence[Layout], names: Mapping[int, str]) -> dict[str, Counter[str]]:
    """How many of each item are cut from each paper."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for layout in layouts:
        for leaf in leaves(layout.root):
            if leaf.item is not None:
                counts[names[leaf.item]][layout.paper] += layout.times
    return counts
