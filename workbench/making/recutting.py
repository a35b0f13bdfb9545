"""Cutting what is missing from what is left: the planner asked once more, for a part of a batch."""

import itertools
from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.craft.card import BASE
from workbench.craft.paper import Paper, Size, offcuts_of
from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import Need, Table
from workbench.planning.cuts.cut_steps import Work, in_cutting_order
from workbench.planning.instance.instance import Demand, Group, demand_of
from workbench.planning.layouts.tree import Layout
from workbench.planning.layouts.trimmer import at_the_trimmer
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Step
from workbench.planning.sheets.search import GroupSearch, ShortError

_APART = "\x1f"


@dataclass(frozen=True, slots=True)
class Recutter:
    """Cuts on `trimmer` from what is `uncut`, left-over parts of the batch and sheets not opened,
    and from offcuts in `stock`. `more` sheets of a paper count as to be had.
    """

    trimmer: Trimmer
    watch: Watch
    more: Mapping[str, int]
    uncut: bool = True
    stock: bool = True

    def cut(
        self, table: Table, missing: Mapping[Need, int], *, other_prints: bool = False
    ) -> Table | None:
        """The table with cuts added that give what is missing; None where they cannot.

        With `other_prints` each piece may come from any of its papers.
        """
        wanted = _wanted(table, missing, other_prints=other_prints)
        try:
            demand = _of_missing(self._demand(table), wanted)
            layouts: list[Layout] = []
            for group in demand.groups:
                layouts += (
                    GroupSearch(group, self._stack(table, group), self.watch).fewest().layouts
                )
        except (ShortError, PlanningError):
            return None
        layouts = in_cutting_order(list(at_the_trimmer(layouts, demand.blade)))
        kinds = {paper.name: paper.kind for paper in table.project.papers}
        work = Work(demand, layouts, kinds, self.trimmer.at_once)
        return _joined(table, self._usable(table), work)

    def _usable(self, table: Table) -> tuple[str, ...]:
        """What is left and wide enough that each cut of it leaves something to hold."""
        if not self.uncut:
            return ()
        narrowest = self.trimmer.hold * 2
        sizes = {label: table.rectangles[label].size for label in table.left_over()}
        return tuple(
            label for label, size in sizes.items() if min(size.width, size.height) >= narrowest
        )

    def _stack(self, table: Table, group: Group) -> dict[str, int]:
        return {
            supply.paper: self.trimmer.at_once[table.project.paper(supply.paper).kind]
            for supply in group.supplies
        }

    def _demand(self, table: Table) -> Demand:
        opened = Counter(sheet.paper for sheet in table.sheets if not sheet.offcut)
        papers = tuple(
            replace(paper, sheets=self._unopened(paper, opened[paper.name]))
            for paper in table.project.papers
        )
        there = Counter(_lying(table, label) for label in self._usable(table))
        if self.stock:
            there += stocked_offcuts(table)
        project = replace(table.project, papers=papers, offcuts=offcuts_of(there))
        return demand_of(project, self.trimmer)

    def _unopened(self, paper: Paper, opened: int) -> int:
        there = paper.sheets + self.more.get(paper.name, 0) - opened
        return max(0, there) if self.uncut else 0


def stocked_offcuts(table: Table) -> Counter[tuple[str, Size]]:
    """The offcuts in stock that the batch has not taken."""
    taken = Counter((sheet.paper, sheet.size) for sheet in table.sheets if sheet.offcut)
    return table.project.offcuts_on_hand() - taken


def _lying(table: Table, label: str) -> tuple[str, Size]:
    return table.papers[label], table.rectangles[label].size


@dataclass(frozen=True, slots=True)
class _Wanted:
    """`count` of a piece, from any of `papers`."""

    name: str
    papers: tuple[str, ...]
    count: int

    @property
    def label(self) -> str:
        """Its name to the planner, which takes the same piece of two papers for two items."""
        return f"{self.name}{_APART}{self.papers[0]}"


def _wanted(table: Table, missing: Mapping[Need, int], *, other_prints: bool) -> list[_Wanted]:
    if not other_prints:
        return [_Wanted(name, (paper,), count) for (name, paper), count in missing.items()]
    counts: Counter[str] = Counter()
    for (name, _), count in missing.items():
        counts[name] += count
    return [_Wanted(name, _papers(table, name), count) for name, count in counts.items()]


def _papers(table: Table, name: str) -> tuple[str, ...]:
    return (table.project.card.paper,) if name == BASE else table.project.piece(name).papers


def _of_missing(demand: Demand, wanted: Sequence[_Wanted]) -> Demand:
    """The demand for the missing pieces alone."""
    groups = []
    for group in demand.groups:
        items = tuple(
            replace(
                item,
                name=each.label,
                papers=each.papers,
                least=each.count,
                copies=each.count,
                needed=True,
                dealt=False,
                spare=0,
            )
            for item in group.items
            for each in wanted
            if each.name == item.name
        )
        asked = {paper for item in items for paper in item.papers}
        supplies = tuple(
            replace(supply, dealt_limit=None) for supply in group.supplies if supply.paper in asked
        )
        if items:
            groups.append(replace(group, items=items, supplies=supplies, mixtures=()))
    return replace(demand, groups=tuple(groups))


def _joined(table: Table, usable: Sequence[str], work: Work) -> Table:
    """The new cuts after the old ones, every part under a name of its own."""
    there: dict[tuple[str, Size], list[str]] = defaultdict(list)
    for label in usable:
        there[_lying(table, label)].append(label)
    known = {sheet.id for sheet in (*table.sheets, *table.plan.sheets)} | set(table.ruined)
    names, sheets = {}, list(table.sheets)
    for sheet in work.sheets:
        waiting = there[sheet.paper, sheet.size] if sheet.offcut else []
        if waiting:
            names[sheet.id] = waiting.pop(0)
        else:
            names[sheet.id] = _unused("O" if sheet.offcut else "S", known)
            sheets.append(replace(sheet, id=names[sheet.id], pattern=()))

    def named(label: str) -> str:
        first, dot, rest = label.partition(".")
        return f"{names[first]}{dot}{rest}"

    cuts = [_renamed(step, named) for step in work.steps]
    pieces = {
        named(part.id): (part.piece.partition(_APART)[0], part.turned)
        for sheet in work.sheets
        for part in sheet.parts
        if part.piece
    }
    return replace(
        table,
        sheets=tuple(sheets),
        cuts=(*table.cuts, *cuts),
        pieces={**table.pieces, **pieces},
    )


def _renamed(step: Step, named: Callable[[str], str]) -> Step:
    return replace(step, takes=tuple(map(named, step.takes)))


def _unused(letter: str, known: set[str]) -> str:
    name = next(f"{letter}{n}" for n in itertools.count(1) if f"{letter}{n}" not in known)
    known.add(name)
    return name
