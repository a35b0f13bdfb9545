"""The cutting as steps at the trimmer: sheets named, like parts stacked, one mark after another."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import groupby, pairwise
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.craft.paper import PaperKind
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.cuts.mark_sequence import fewest_settings
from workbench.planning.cuts.stroke_order import Stroke, in_hand
from workbench.planning.instance.instance import Instance
from workbench.planning.layouts.node_table import NodeTable
from workbench.planning.layouts.positions import PartPositions
from workbench.planning.layouts.tree import Layout, Node
from workbench.planning.layouts.trimmer import at_the_trimmer
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.result import Part, PartId, Path, Sheet, TableWork, paths_below
from workbench.planning.shape import HEIGHT


class Alike(NamedTuple):
    """Rectangles of one kind of paper that are cut alike; `tree` numbers how."""

    tree: int
    kind: PaperKind


class Pile(NamedTuple):
    """Rectangles that can be stacked where they are cut at the same mark."""

    width: int
    height: int
    direction: Direction
    kind: PaperKind

    @property
    def rank(self) -> tuple[int, int, bool, PaperKind]:
        """What settles which of two piles of one area comes first."""
        return self.width, self.height, self.direction is HEIGHT, self.kind


class PileCut(NamedTuple):
    """A pile being cut: the lots it is made of, in their order, and how many rectangles in all."""

    pile: Pile
    mark: int
    lots: tuple[Alike, ...]
    rectangles: int


@dataclass
class PileCuts:
    """Layouts cut apart pile by pile, counted only. `at_once`: how many of a kind are stacked.

    The cuts are made at so many different `marks`. No order needs fewer than `fewest_settings`
    settings of the guide. `roots` are the layouts' own, a part that is held cut off last.
    """

    layouts: Sequence[Layout]
    kinds: Mapping[str, PaperKind]
    at_once: Mapping[PaperKind, int]
    hold: int
    limits: Limits = DEFAULT
    made: list[PileCut] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.trees = NodeTable()
        order = fewest_settings((layout.root for layout in self.layouts), self.hold, self.limits)
        self.order, self.roots = order.marks, order.roots
        self.fewest_settings, self.marks = order.fewest, len(set(order.marks))
        self._lots: Counter[Alike] = Counter()
        self._lies = order.begins
        for layout in self.layouts:
            self._lay(self.lot(layout), layout.times)
        for mark in order.marks:
            self._cut_at(mark)

    def lot(self, layout: Layout) -> Alike:
        """The lot of a layout's sheets."""
        return Alike(self.trees.number(self.roots[layout.root]), self.kinds[layout.paper])

    def halves(self, lot: Alike, mark: int) -> tuple[Alike, Alike]:
        """The lots of the two halves that a cut at `mark` leaves."""
        first, rest = (Alike(tree, lot.kind) for tree in self.trees.halves(lot.tree, mark))
        return first, rest

    @property
    def work(self) -> TableWork:
        """What all the cuts take at the table."""
        strokes = (math.ceil(each.rectangles / self.at_once[each.pile.kind]) for each in self.made)
        ways = pairwise(each.pile.direction for each in self.made)
        return TableWork(
            len([mark for mark, _ in groupby(each.mark for each in self.made)]),
            sum(strokes),
            sum(each.rectangles for each in self.made),
            sum(one is not other for one, other in ways),
        )

    def _lay(self, lot: Alike, count: int) -> None:
        """Keep at hand what is to be cut on."""
        if self.trees.chain(lot.tree):
            self._lots[lot] += count

    def _cut_at(self, mark: int) -> None:
        """Make every cut at one mark, pile by pile."""
        due: dict[Pile, set[Alike]] = defaultdict(set)
        self._add_due(due, self._lots, mark)
        while due:
            pile = self._next(due, mark)
            lots = tuple(sorted(due.pop(pile)))
            count = 0
            for lot in lots:
                times = self._lots.pop(lot)
                count += times
                halves = self.halves(lot, mark)
                for half in halves:
                    self._lay(half, times)
                self._add_due(due, halves, mark)
            self.made.append(PileCut(pile, mark, lots, count))
            self._lies = pile.direction

    def _add_due(self, due: dict[Pile, set[Alike]], lots: Iterable[Alike], mark: int) -> None:
        for lot in lots:
            if self.trees.has(lot.tree, mark):
                due[self._pile(lot)].add(lot)

    def _pile(self, lot: Alike) -> Pile:
        whole = self.trees.chain(lot.tree)
        assert whole is not None
        return Pile(whole.width, whole.height, whole.direction, lot.kind)

    def _next(self, due: Mapping[Pile, set[Alike]], mark: int) -> Pile:
        """The pile to cut now: one that will not grow, lying as the last did, the largest."""
        growing = {
            self._pile(Alike(tree, lot.kind))
            for lots in due.values()
            for lot in sorted(lots)  # trees get their numbers here, the same in every process
            for tree in self.trees.opened(lot.tree, mark)
        }
        return max(
            due.keys() - growing,
            key=lambda pile: (pile.direction == self._lies, pile.width * pile.height, pile.rank),
        )


class _Run(NamedTuple):
    """Like parts of sheets cut alike: at the end of each of `paths`, sheet by sheet.

    `freed`: which stroke freed each of them; 0 where they are whole sheets.
    """

    sheets: Sequence[str]
    paths: Sequence[Path]
    freed: Sequence[int]

    @property
    def parts(self) -> list[PartId]:
        """The ids of all."""
        return PartId.each(self.sheets, self.paths)

    def halves(self, freed: Sequence[int]) -> tuple["_Run", "_Run"]:
        """The parts measured and the rests, when `freed` says which stroke cut each part."""
        pairs = [paths_below(path) for path in self.paths]
        firsts, rests = [first for first, _ in pairs], [rest for _, rest in pairs]
        return _Run(self.sheets, firsts, freed), _Run(self.sheets, rests, freed)

    def like_halves(self, freed: Sequence[int]) -> "_Run":
        """The same in one, part by part."""
        paths = [half for path in self.paths for half in paths_below(path)]
        return _Run(self.sheets, paths, [stroke for stroke in freed for _ in range(2)])


class CutSteps:
    """Turns cut piles into sheets and cut steps: every part with its id and its place."""

    def __init__(self, instance: Instance, cuts: PileCuts) -> None:
        self.cuts = cuts
        self.sheets: list[Sheet] = []
        self._length = cache(instance.length)
        self._papers: dict[str, str] = {}
        self._runs: dict[Alike, list[_Run]] = defaultdict(list)
        self._strokes: list[Stroke] = []
        placing = PartPositions(cuts.trees, cuts.order, self._length, instance.names)
        for layout, names in _labelled(cuts.layouts):
            lot = cuts.lot(layout)
            self._lay(lot, _Run(names, [()], [0] * len(names)))
            self.sheets += self._named(layout, names, placing.parts(lot.tree))
            self._papers |= dict.fromkeys(names, layout.paper)
        for each in cuts.made:
            self._cut(each)
        self.steps = in_hand(self._strokes)

    def _named(
        self, layout: Layout, names: Iterable[str], parts: tuple[Part, ...]
    ) -> Iterator[Sheet]:
        """The sheets of one layout."""
        width, height = self._length(layout.root.width), self._length(layout.root.height)
        for name in names:
            yield Sheet(name, layout.paper, width, height, layout.source.offcut, parts)

    def _lay(self, lot: Alike, run: _Run) -> None:
        """Keep at hand what is to be cut on."""
        if self.cuts.trees.chain(lot.tree):
            self._runs[lot].append(run)

    def _cut(self, made: PileCut) -> None:
        """Cut a pile, as many at once as the trimmer takes."""
        at_once = self.cuts.at_once[made.pile.kind]
        before = len(self._strokes) + 1
        strokes = [before + place // at_once for place in range(made.rectangles)]
        taken: list[PartId] = []
        freed: list[int] = []
        for lot in made.lots:
            for run in self._runs.pop(lot):
                start = len(taken)
                taken += run.parts
                freed += run.freed
                self._halve(lot, made.mark, run, strokes[start : len(taken)])
        mark, measure = self._length(made.mark), made.pile.direction
        for at, start in enumerate(range(0, len(taken), at_once), before):
            stack = tuple(taken[start : start + at_once])
            behind = frozenset(freed[start : start + at_once]) - {0}
            paper = self._papers[stack[0].sheet]
            self._strokes.append(Stroke(at, stack, measure, mark, paper, behind))

    def _halve(self, lot: Alike, mark: int, run: _Run, strokes: Sequence[int]) -> None:
        """Lay the halves of a lot's run down for what comes next."""
        lots = self.cuts.halves(lot, mark)
        if lots[0] == lots[1]:
            self._lay(lots[0], run.like_halves(strokes))
        else:
            for half, part in zip(lots, run.halves(strokes), strict=True):
                self._lay(half, part)


def pile_cuts(
    project: Project,
    trimmer: Trimmer,
    instance: Instance,
    found: Iterable[Layout],
    limits: Limits = DEFAULT,
) -> PileCuts:
    """The layouts found as they are cut at the trimmer, like ones side by side."""
    layouts = _in_cutting_order(list(at_the_trimmer(found, instance.trimmer)))
    kinds = {paper.name: paper.kind for paper in project.papers}
    return PileCuts(layouts, kinds, trimmer.at_once, instance.trimmer.hold, limits)


def _in_cutting_order(layouts: Sequence[Layout]) -> list[Layout]:
    """Like layouts side by side, each paper's whole sheets before its offcuts."""
    first: dict[Node, int] = {}
    for number, layout in enumerate(layouts):
        first.setdefault(layout.root, number)
    return sorted(layouts, key=lambda layout: (layout.source.offcut, first[layout.root]))


def _labelled(layouts: Sequence[Layout]) -> Iterator[tuple[Layout, list[str]]]:
    """Each layout with the names of its sheets."""
    named: Counter[str] = Counter()
    for layout in layouts:
        letter = "O" if layout.source.offcut else "S"
        start = named[letter] + 1
        named[letter] += layout.times
        yield layout, [f"{letter}{n}" for n in range(start, start + layout.times)]
