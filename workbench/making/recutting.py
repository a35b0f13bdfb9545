"""Cutting what is missing from what is left: the planner asked once more, for a part of a batch."""

import itertools
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.craft.card import BASE
from workbench.craft.paper import Paper, Size, offcuts_of
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import Need, WorkState
from workbench.planning import MissingPiece, PartId, Replacement, Watch, cut_missing


@dataclass(frozen=True, slots=True)
class Recutter:
    """Cuts what is missing on `trimmer`.

    It cuts from what is `uncut`, left-over parts of the batch and sheets not opened, and from
    offcuts in `stock`. `more` sheets of a paper count as to be had.
    """

    trimmer: Trimmer
    watch: Watch
    more: Mapping[str, int]
    uncut: bool = True
    stock: bool = True

    def cut(
        self, work: WorkState, missing: Mapping[Need, int], *, other_prints: bool = False
    ) -> WorkState | None:
        """The work with cuts added that give what is missing; None where they cannot.

        With `other_prints` each piece may come from any of its papers.
        """
        wanted = _wanted(work, missing, other_prints=other_prints)
        found = cut_missing(self._project(work), wanted, self.trimmer, self.watch)
        return None if found is None else _joined(work, self._usable(work), found)

    def _usable(self, work: WorkState) -> tuple[PartId, ...]:
        """What is left and wide enough that each cut of it leaves something to hold."""
        if not self.uncut:
            return ()
        narrowest = self.trimmer.hold * 2
        sizes = {label: work.rectangles[label].size for label in work.left_over()}
        return tuple(
            label for label, size in sizes.items() if min(size.width, size.height) >= narrowest
        )

    def _project(self, work: WorkState) -> Project:
        """The project with nothing in stock but what this may cut from."""
        opened = Counter(sheet.paper for sheet in work.sheets if not sheet.offcut)
        papers = tuple(
            replace(paper, sheets=self._unopened(paper, opened[paper.name]))
            for paper in work.project.papers
        )
        there = Counter(_lying(work, label) for label in self._usable(work))
        if self.stock:
            there += stocked_offcuts(work)
        return replace(work.project, papers=papers, offcuts=offcuts_of(there))

    def _unopened(self, paper: Paper, opened: int) -> int:
        there = paper.sheets + self.more.get(paper.name, 0) - opened
        return max(0, there) if self.uncut else 0


def stocked_offcuts(work: WorkState) -> Counter[tuple[str, Size]]:
    """The offcuts in stock that the batch has not taken."""
    taken = Counter((sheet.paper, sheet.size) for sheet in work.sheets if sheet.offcut)
    return work.project.offcuts_on_hand() - taken


def _lying(work: WorkState, label: PartId) -> tuple[str, Size]:
    return work.papers[label], work.rectangles[label].size


def _wanted(
    work: WorkState, missing: Mapping[Need, int], *, other_prints: bool
) -> list[MissingPiece]:
    if not other_prints:
        return [MissingPiece(name, (paper,), count) for (name, paper), count in missing.items()]
    counts: Counter[str] = Counter()
    for (name, _), count in missing.items():
        counts[name] += count
    return [MissingPiece(name, _papers(work, name), count) for name, count in counts.items()]


def _papers(work: WorkState, name: str) -> tuple[str, ...]:
    return (work.project.card.paper,) if name == BASE else work.project.piece(name).papers


def _joined(work: WorkState, usable: Sequence[PartId], found: Replacement) -> WorkState:
    """The new cuts after the old ones, every part under a name of its own."""
    there: dict[tuple[str, Size], list[PartId]] = defaultdict(list)
    for label in usable:
        there[_lying(work, label)].append(label)
    known = {sheet.id for sheet in (*work.sheets, *work.plan.sheets)} | {
        part.sheet for part in work.ruined
    }
    lies: dict[str, PartId] = {}
    sheets = list(work.sheets)
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
        work,
        sheets=tuple(sheets),
        cuts=(*work.cuts, *cuts),
        pieces={**work.pieces, **pieces},
    )


def _unused(letter: str, known: set[str]) -> str:
    name = next(f"{letter}{n}" for n in itertools.count(1) if f"{letter}{n}" not in known)
    known.add(name)
    return name
