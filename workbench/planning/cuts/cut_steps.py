"""The cutting as steps at the trimmer: sheets named, like parts stacked, one mark after another."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.craft.paper import PaperKind
from workbench.planning.cuts.mark_sequence import fewest_settings
from workbench.planning.instance.instance import Instance
from workbench.planning.layouts.node_table import NodeTable
from workbench.planning.layouts.positions import PartPositions
from workbench.planning.layouts.tree import Layout, Node
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.result import Cut, Part, PartId, Sheet
from workbench.planning.shape import HEIGHT


class _Lot(NamedTuple):
    """Rectangles of one kind of paper that are cut alike; `tree` numbers how."""

    tree: int
    kind: PaperKind


class _Pile(NamedTuple):
    """Rectangles that can be stacked where they are cut at the same mark."""

    width: int
    height: int
    direction: Direction
    kind: PaperKind

    @property
    def rank(self) -> tuple[int, int, bool, PaperKind]:
        """What settles which of two piles of one area comes first."""
        return self.width, self.height, self.direction is HEIGHT, self.kind


@dataclass
class CutSteps:
    """Turns layouts into sheets and cut steps. `at_once`: how many of a kind are stacked.

    The cuts are made at so many different `marks`. No order needs fewer than `fewest_settings`
    settings of the guide.
    """

    instance: Instance
    layouts: Sequence[Layout]
    kinds: Mapping[str, PaperKind]
    at_once: Mapping[PaperKind, int]
    limits: Limits = DEFAULT
    steps: list[Cut] = field(default_factory=list)
    sheets: list[Sheet] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._trees = NodeTable()
        self._length = cache(self.instance.length)
        self._lots: dict[_Lot, list[PartId]] = defaultdict(list)
        self._lies: Direction | None = None
        order = fewest_settings(
            [layout.root for layout in self.layouts], self.instance.trimmer.hold, self.limits
        )
        self.fewest_settings = order.fewest
        self.marks = len(set(order.marks))
        placing = PartPositions(self._trees, order.marks, self._length, self.instance.names)
        for layout, names in _labelled(self.layouts):
            tree = self._trees.number(order.roots[layout.root])
            self._lay(_Lot(tree, self.kinds[layout.paper]), map(PartId, names))
            self.sheets += self._named(layout, names, placing.parts(tree))
        for mark in order.marks:
            self._cut_at(mark)

    def _named(
        self, layout: Layout, names: Iterable[str], parts: tuple[Part, ...]
    ) -> Iterator[Sheet]:
        """The sheets of one layout."""
        width, height = self._length(layout.root.width), self._length(layout.root.height)
        for name in names:
            yield Sheet(name, layout.paper, width, height, layout.source.offcut, parts)

    def _lay(self, lot: _Lot, parts: Iterable[PartId]) -> None:
        """Keep at hand what is to be cut on."""
        if self._trees.chain(lot.tree):
            self._lots[lot] += parts

    def _cut_at(self, mark: int) -> None:
        """Make every cut at one mark, pile by pile."""
        due: dict[_Pile, set[_Lot]] = defaultdict(set)
        self._add_due(due, self._lots, mark)
        while due:
            pile = self._next(due, mark)
            taken: list[PartId] = []
            for lot in sorted(due.pop(pile)):
                parts = self._lots.pop(lot)
                self._add_due(due, self._halved(lot, mark, parts), mark)
                taken += parts
            self._stack(pile, mark, taken)
            self._lies = pile.direction

    def _add_due(self, due: dict[_Pile, set[_Lot]], lots: Iterable[_Lot], mark: int) -> None:
        for lot in lots:
            if self._trees.has(lot.tree, mark):
                due[self._pile(lot)].add(lot)

    def _pile(self, lot: _Lot) -> _Pile:
        whole = self._trees.chain(lot.tree)
        assert whole is not None
        return _Pile(whole.width, whole.height, whole.direction, lot.kind)

    def _next(self, due: Mapping[_Pile, set[_Lot]], mark: int) -> _Pile:
        """The pile to cut now: one that will not grow, lying as the last did, the largest."""
        growing = {
            self._pile(_Lot(tree, lot.kind))
            for lots in due.values()
            for lot in lots
            for tree in self._trees.opened(lot.tree, mark)
        }
        return max(
            due.keys() - growing,
            key=lambda pile: (pile.direction == self._lies, pile.width * pile.height, pile.rank),
        )

    def _halved(self, lot: _Lot, mark: int, parts: Sequence[PartId]) -> tuple[_Lot, _Lot]:
        """The lots of a lot's two halves, laid down for what comes next."""
        first, rest = (_Lot(tree, lot.kind) for tree in self._trees.halves(lot.tree, mark))
        halves = [part.halves for part in parts]
        if first == rest:
            self._lay(first, [half for pair in halves for half in pair])
        else:
            self._lay(first, [half for half, _ in halves])
            self._lay(rest, [half for _, half in halves])
        return first, rest

    def _stack(self, pile: _Pile, mark: int, taken: Sequence[PartId]) -> None:
        """Cut a pile, as many at once as the trimmer takes."""
        measure, length = pile.direction, self._length(mark)
        at_once = self.at_once[pile.kind]
        for n, start in enumerate(range(0, len(taken), at_once), len(self.steps) + 1):
            stack = tuple(taken[start : start + at_once])
            self.steps.append(Cut(n, stack, measure, length))


def in_cutting_order(layouts: Sequence[Layout]) -> list[Layout]:
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
