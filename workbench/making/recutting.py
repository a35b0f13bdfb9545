"""Cutting what is missing from what is left: the planner asked once more, for a part of a batch."""

import itertools
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.craft.card import BASE
from workbench.craft.paper import Paper, Size, offcuts_of
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import Need, Table
from workbench.planning import MissingPiece, PartId, Replacement, Watch, cut_missing


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
        found = cut_missing(self._project(table), wanted, self.trimmer, self.watch)
        return None if found is None else _joined(table, self._usable(table), found)

    def _usable(self, table: Table) -> tuple[PartId, ...]:
        """What is left and wide enough that each cut of it leaves something to hold."""
        if not self.uncut:
            return ()
        narrowest = self.trimmer.hold * 2
        sizes = {label: table.rectangles[label].size for label in table.left_over()}
        return tuple(
            label for label, size in sizes.items() if min(size.width, size.height) >= narrowest
        )

    def _project(self, table: Table) -> Project:
        """The project with nothing in stock but what this may cut from."""
        opened = Counter(sheet.paper for sheet in table.sheets if not sheet.offcut)
        papers = tuple(
            replace(paper, sheets=self._unopened(paper, opened[paper.name]))
            for paper in table.project.papers
        )
        there = Counter(_lying(table, label) for label in self._usable(table))
        if self.stock:
            there += stocked_offcuts(table)
        return replace(table.project, papers=papers, offcuts=offcuts_of(there))

    def _unopened(self, paper: Paper, opened: int) -> int:
        there = paper.sheets + self.more.get(paper.name, 0) - opened
        return max(0, there) if self.uncut else 0


def stocked_offcuts(table: Table) -> Counter[tuple[str, Size]]:
    """The offcuts in stock that the batch has not taken."""
    taken = Counter((sheet.paper, sheet.size) for sheet in table.sheets if sheet.offcut)
    return table.project.offcuts_on_hand() - taken


def _lying(table: Table, label: PartId) -> tuple[str, Size]:
    return table.papers[label], table.rectangles[label].size


def _wanted(table: Table, missing: Mapping[Need, int], *, other_prints: bool) -> list[MissingPiece]:
    if not other_prints:
        return [MissingPiece(name, (paper,), count) for (name, paper), count in missing.items()]
    counts: Counter[str] = Counter()
    for (name, _), count in missing.items():
        counts[name] += count
    return [MissingPiece(name, _papers(table, name), count) for name, count in counts.items()]


def _papers(table: Table, name: str) -> tuple[str, ...]:
    return (table.project.card.paper,) if name == BASE else table.project.piece(name).papers


def _joined(table: Table, usable: Sequence[PartId], found: Replacement) -> Table:
    """The new cuts after the old ones, every part under a name of its own."""
    there: dict[tuple[str, Size], list[PartId]] = defaultdict(list)
    for label in usable:
        there[_lying(table, label)].append(label)
    known = {sheet.id for sheet in (*table.sheets, *table.plan.sheets)} | {
        part.sheet for part in table.ruined
    }
    lies: dict[str, PartId] = {}
    sheets = list(table.sheets)
    for sheet in found.sheets:
        waiting = there[sheet.paper, sheet.size] if sheet.offcut else []
        if waiting:
            lies[sheet.id] = waiting.pop(0)
        else:
            opened = replace(sheet, id=_unused("O" if sheet.offcut else "S", known), parts=())
            lies[sheet.id] = opened.whole
            sheets.append(opened)
    cuts = [
        replace(cut, takes=tuple(lies[part.sheet].below(part.path) for part in cut.takes))
        for cut in found.cuts
    ]
    pieces = {
        lies[sheet.id].below(part.path): (part.piece, part.turned)
        for sheet in found.sheets
        for part in sheet.parts
        if part.piece
    }
    return replace(
        table,
        sheets=tuple(sheets),
        cuts=(*table.cuts, *cuts),
        pieces={**table.pieces, **pieces},
    )


def _unused(letter: str, known: set[str]) -> str:
    name = next(f"{letter}{n}" for n in itertools.count(1) if f"{letter}{n}" not in known)
    known.add(name)
    return name
