"""Sheets filled one after another with no more of a piece than is still due, many times over.

A residual heuristic of column generation: most of the whole sheets of the linear program are
settled, and what is left is filled sheet by sheet. What is cut beyond what is due is left uncut,
and its place filled again. Chance, with a fixed seed, moves what the pieces are worth; many
fillings at once take little longer than one.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from math import isqrt
from random import Random
from typing import TYPE_CHECKING

from workbench.planning.bound.column_generation import PRECISION, LinearBound, Pattern, priced
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.instance.stock_classes import StockClass
from workbench.planning.layouts.tree import Chain, Leaf, Node, leaves
from workbench.planning.milp import NEARLY
from workbench.planning.progress import Watch
from workbench.planning.sheets.pattern_milp import keeping

if TYPE_CHECKING:
    from workbench.planning.bound.guillotine_dp import Table

SEED = 1
FAVOURS = (9, 10, 11)


@dataclass(frozen=True, slots=True)
class FilledSheets:
    """A whole cutting: how often each class of stock, by number, is cut into a tree.

    It opens `sheets`, and may give more of an item than is asked for.
    """

    takes: Mapping[tuple[int, Node], int]
    sheets: int


class ResidualHeuristic:
    """Fillings by the handful, each handful with fewer of the bound's whole sheets settled.

    They cut all that is needed; limits that papers share they know nothing of. Each is made when
    first asked for, and kept.
    """

    def __init__(self, bound: LinearBound, watch: Watch) -> None:
        self._filler = _Filler(bound, Random(SEED), watch)
        self._made: list[list[FilledSheets]] = []

    def handfuls(self) -> Iterator[list[FilledSheets]]:
        """Raises Cancelled."""
        for number, unsettled in enumerate(self._filler.watch.limits.unsettled):
            if number == len(self._made):
                whole = self._filler.whole_sheets()
                self._made.append(self._filler.filled(whole[unsettled:]))
            yield self._made[number]

    @property
    def fewest(self) -> int:
        """The fewest sheets of those made so far; 0 if there are none."""
        return min((one.sheets for handful in self._made for one in handful), default=0)


@dataclass
class _Begun:
    """One filling under way: what is `due`, by item id, and the sheets filled so far."""

    due: dict[int, int]
    takes: Counter[tuple[int, Node]]

    def cut(
        self, raster: Raster, table: "Table", prizes: Sequence[ValuedRectangle], gap: Leaf
    ) -> Node:
        """A gap cut into its most valuable pieces, as far as those are due; no longer then."""
        root = raster.part(table, prizes, (gap.width, gap.height))
        kept = keeping(root, Counter(self.due))
        for leaf in leaves(kept):
            if leaf.item is not None:
                self.due[leaf.item] -= 1
        return kept


@dataclass
class _Filler:
    bound: LinearBound
    chance: Random
    watch: Watch

    def whole_sheets(self) -> list[Pattern]:
        """What the linear program takes whole, an entry a sheet, the worst filled first."""
        taken = zip(self.bound.patterns, self.bound.uses, strict=False)
        whole = [pattern for pattern, use in taken for _ in range(int(use + NEARLY))]
        return sorted(whole, key=self._filled_area)

    def _filled_area(self, pattern: Pattern) -> int:
        items = self.bound.classes.group.by_id
        return sum(items[i].width * items[i].height * n for i, n in pattern.counts.items())

    def filled(self, settled: Sequence[Pattern]) -> list[FilledSheets]:
        """As many fillings as are made at once, less those that come to no end."""
        classes = self.bound.classes
        available = [stock.available for stock in classes.every]
        due = {item.id: item.least for item in classes.group.items}
        for pattern in settled:
            available[pattern.stock] -= 1
            for item, count in pattern.counts.items():
                due[item] = max(0, due[item] - count)
        takes = Counter((pattern.stock, pattern.root) for pattern in settled)
        begun = [_Begun(dict(due), Counter(takes)) for _ in range(self.watch.limits.fillings)]
        for _ in range(self.watch.limits.filled_sheets):
            unfinished = [one for one in begun if any(one.due.values())]
            able = [number for number, left in enumerate(available) if left > 0]
            if not unfinished or not able:
                break
            self.watch.stage("looking for fuller sheets")
            number = self.chance.choice(able)
            available[number] -= 1
            self._fill_one(number, unfinished)
        return [self._whole(one) for one in begun if not any(one.due.values())]

    def _whole(self, begun: _Begun) -> FilledSheets:
        every = self.bound.classes.every
        opened = sum(every[number].source.cost * n for (number, _), n in begun.takes.items())
        return FilledSheets(dict(begun.takes), opened)

    def _fill_one(self, number: int, begun: Sequence[_Begun]) -> None:
        """Fill one more sheet of each."""
        stock, raster = self.bound.classes.every[number], self.bound.pricers[number].raster
        worths = [self._worths(stock) for _ in begun]
        nodes: list[Node] = [Leaf(stock.source.width, stock.source.height) for _ in begun]
        for _ in range(self.watch.limits.gap_passes):
            pricings = [
                priced(stock, {item: worth * (one.due[item] > 0) for item, worth in mine.items()})
                for mine, one in zip(worths, begun, strict=True)
            ]
            gaps = [_gaps_for(node, prizes) for node, prizes in zip(nodes, pricings, strict=True)]
            open_ones = [number for number, sizes in enumerate(gaps) if sizes]
            if not open_ones:
                break
            tables = raster.tables(
                [pricings[number] for number in open_ones],
                self.watch,
                {size for sizes in gaps for size in sizes},
            )
            for which, table in zip(open_ones, tables, strict=True):
                cut = partial(self._cut, begun[which], raster, table, pricings[which])
                nodes[which] = _with_gaps_cut(nodes[which], cut)
        for one, node in zip(begun, nodes, strict=True):
            if any(leaf.item is not None for leaf in leaves(node)):
                one.takes[number, node] += 1

    def _cut(
        self,
        one: _Begun,
        raster: Raster,
        table: "Table",
        prizes: Sequence[ValuedRectangle],
        gap: Leaf,
    ) -> Node:
        self.watch.go_on()
        return one.cut(raster, table, prizes, gap)

    def _worths(self, stock: StockClass) -> dict[int, int]:
        """What each item is worth: its price and its share of the sheet, by favour.

        Larger pieces are worth more than in proportion, so that they do not come last, when
        there are no small ones left to lie beside them.
        """
        group = self.bound.classes.group
        whole = stock.source.width * stock.source.height
        prices = self.bound.prices.worths(stock, self.bound.classes)
        worths = {}
        for item in group.items:
            value = prices[item.id] + PRECISION * item.width * item.height // whole
            worths[item.id] = isqrt(isqrt(value**5)) * self.chance.choice(FAVOURS)
        return worths


def _gaps_for(node: Node, prizes: Sequence[ValuedRectangle]) -> set[tuple[int, int]]:
    """The sizes of what is left over of a sheet, as far as one of the prizes goes in."""
    worthy = [prize for prize in prizes if prize.value > 0]
    sizes = {leaf.shape for leaf in leaves(node) if leaf.item is None}
    return {
        (width, height)
        for width, height in sizes
        if any(prize.width <= width and prize.height <= height for prize in worthy)
    }


def _with_gaps_cut(node: Node, cut: Callable[[Leaf], Node]) -> Node:
    """The tree with everything that was left over cut on."""
    if isinstance(node, Leaf):
        return node if node.item is not None else cut(node)
    cuts = tuple((mark, _with_gaps_cut(first, cut)) for mark, first in node.cuts)
    rest = _with_gaps_cut(node.rest, cut)
    return Chain(node.width, node.height, node.direction, cuts, rest)
