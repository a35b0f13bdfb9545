"""Every way to fill a sheet that a cutting into so few sheets could use.

The prices of the linear bound say what a sheet is worth at best. In a cutting that opens few
sheets more than the bound, no sheet may be worth less than that by more than the difference
(`slack`): reduced-cost fixing, for patterns. Slack goes down with the cuts: a rectangle cut in two
leaves each part what the cut itself has not used up. Of the ways to fill a rectangle only those
that no other betters piece by piece are kept. Cuts are edge to edge, of any depth, so that an
integer program over the patterns found is exact.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from workbench.planning.bound.bounded_dp import TooManyStatesError
from workbench.planning.bound.column_generation import PRECISION, LinearBound, priced
from workbench.planning.bound.guillotine_dp import Raster, RasterIndex, ValuedRectangle, trimmed
from workbench.planning.layouts.tree import Chain, Leaf, Node
from workbench.planning.progress import Watch
from workbench.planning.shape import DIRECTIONS, Shape, along, split

if TYPE_CHECKING:
    import numpy as np

    from workbench.planning.bound.guillotine_dp import Table

    Numbers = np.ndarray[Any, np.dtype[np.int64]]

ALONE = -1


class TooManyPatternsError(Exception):
    """Raised when a sheet can be filled in more ways than are worth listing."""


def all_patterns(bound: LinearBound, sheets: int, watch: Watch) -> list[Node]:
    """The layouts that a cutting of the bound's group into `sheets` sheets can do with.

    Raises TooManyPatternsError, Cancelled.
    """
    group, prices = bound.classes.group, bound.prices
    most = {item.id: item.copies for item in group.items}
    found: list[Node] = []
    for stock, pricer, own in zip(bound.classes.every, bound.pricers, prices.classes, strict=True):
        prizes = priced(stock, prices.worths(stock, bound.classes))
        least = stock.source.cost * PRECISION + own - (sheets * PRECISION - prices.total)
        try:
            raster, table = pricer.table_above(prizes, least - 1, watch)
        except TooManyStatesError:
            raise TooManyPatternsError from None
        slack = int(table[-1, -1]) - least
        if slack >= 0:
            found += enumerate_patterns(raster, table, prizes, most, slack, watch=watch)
    return found


def enumerate_patterns(
    raster: Raster,
    table: "Table",
    prizes: Sequence[ValuedRectangle],
    most: Mapping[int, int],
    slack: int,
    *,
    watch: Watch,
) -> list[Node]:
    """A layout for each way to fill the sheet that no other betters.

    A way's worth is within `slack` of the best, and so far at least `table` has the raster's best
    values. Pieces beyond the `most` of an item are not counted. Raises TooManyPatternsError,
    Cancelled.
    """
    return _Enumeration(raster, table, prizes, most, watch).layouts(slack)


@dataclass(frozen=True, slots=True)
class Split:
    """A rectangle's parts as places on the raster; `axis` 0 is its width, 1 its height."""

    axis: int
    first: RasterIndex
    rest: RasterIndex


@dataclass(frozen=True, slots=True)
class Ways:
    """What a rectangle can give: `counts` of pieces, a row each way, and what each is `worth`.

    `origins` tell how it is cut: the number of the cut and of the ways of its two parts; or ALONE
    and the number of the one piece (-1: none) that it is cut down to.
    """

    counts: "Numbers"
    worths: "Numbers"
    origins: "Numbers"


@dataclass
class _Enumeration:
    """`slack` is by how much a rectangle may be worth less than its best; -1: it is of no use.

    `cuts` are the pairs of parts that each may be cut into.
    """

    raster: Raster
    table: "Table"
    prizes: Sequence[ValuedRectangle]
    most: Mapping[int, int]
    watch: Watch
    cuts: dict[RasterIndex, list[Split]] = field(default_factory=dict)
    ways: dict[RasterIndex, Ways] = field(default_factory=dict)

    def __post_init__(self) -> None:
        import numpy as np

        self.nodes: dict[tuple[RasterIndex, int, tuple[int, int]], Node] = {}
        self.slack: Table = np.full(self.table.shape, -1, dtype=np.int64)
        self.worth = np.zeros(len(self.most), dtype=np.int64)
        self.columns = {item: column for column, item in enumerate(self.most)}
        for prize in self.prizes:
            self.worth[self.columns[prize.item]] = prize.value
        self.pairs = self.sums = 0

    def layouts(self, slack: int) -> list[Node]:
        across, up = self.table.shape
        whole = across - 1, up - 1
        self.slack[whole] = slack
        for i in reversed(range(across)):
            for j in reversed(range(up)):
                if self.slack[i, j] >= 0:
                    self.watch.go_on()
                    self.cuts[i, j] = list(self._cuts((i, j)))
        for place in sorted(self.cuts):
            self.watch.go_on()
            self.ways[place] = self._ways(place)
        every = range(len(self.ways[whole].worths))
        return [self._node(whole, which, self.raster.sheet) for which in every]

    def _cuts(self, place: RasterIndex) -> Iterator[Split]:
        """The parts a rectangle may be cut into, whose slack is what this one leaves them."""
        import numpy as np

        for axis in (0, 1):
            other = place[1 - axis]
            if other >= self.raster.within[1 - axis]:
                continue
            firsts, rests = self.raster.parts(axis, place[axis])
            line = self.table[:, other] if axis == 0 else self.table[other]
            left = self.slack[place] - self.table[place] + line[firsts] + line[rests]
            slack = self.slack[:, other] if axis == 0 else self.slack[other]
            for which in np.flatnonzero(left >= 0):
                first, rest = int(firsts[which]), int(rests[which])
                slack[first] = max(slack[first], left[which])
                slack[rest] = max(slack[rest], left[which])
                ends = ((first, other), (rest, other)), ((other, first), (other, rest))
                yield Split(axis, *ends[axis])
            self.pairs += int((left >= 0).sum())
            if self.pairs > self.watch.limits.pattern_splits:
                raise TooManyPatternsError

    def _ways(self, place: RasterIndex) -> Ways:
        import numpy as np

        found = [self._single(place)]
        found += [self._together(place, number) for number in range(len(self.cuts[place]))]
        counts = np.concatenate([ways.counts for ways in found])
        origins = np.concatenate([ways.origins for ways in found])
        counts, which = np.unique(counts, axis=0, return_index=True)
        kept = _unbettered(counts, self.watch.limits.patterns)
        return Ways(counts[kept], counts[kept] @ self.worth, origins[which[kept]])

    def _single(self, place: RasterIndex) -> Ways:
        """Nothing, or any one piece that fits."""
        import numpy as np

        fitting = [n for n, prize in enumerate(self.prizes) if self._frees(prize, place)]
        counts = np.zeros((1 + len(fitting), len(self.most)), dtype=np.int64)
        for row, number in enumerate(fitting, 1):
            counts[row, self.columns[self.prizes[number].item]] = 1
        origins = np.array([[ALONE, number, 0] for number in (-1, *fitting)])
        return self._worthy(Ways(counts, counts @ self.worth, origins), place)

    def _together(self, place: RasterIndex, number: int) -> Ways:
        """The ways of two parts put together."""
        import numpy as np

        cut = self.cuts[place][number]
        some, others = self.ways[cut.first], self.ways[cut.rest]
        enough = self.table[place] - self.slack[place]
        one, other = np.nonzero(some.worths[:, None] + others.worths[None, :] >= enough)
        self.sums += len(one)
        if self.sums > self.watch.limits.pattern_sums:
            raise TooManyPatternsError
        counts = np.minimum(
            some.counts[one] + others.counts[other], np.array(list(self.most.values()))
        )
        origins = np.stack([np.full(len(one), number), one, other], axis=1)
        return self._worthy(Ways(counts, counts @ self.worth, origins), place)

    def _worthy(self, ways: Ways, place: RasterIndex) -> Ways:
        enough = ways.worths >= self.table[place] - self.slack[place]
        return Ways(ways.counts[enough], ways.worths[enough], ways.origins[enough])

    def _node(self, place: RasterIndex, which: int, size: tuple[int, int]) -> Node:
        """A tree of cuts that gives a rectangle's way of that number."""
        key = (place, which, size)
        if key not in self.nodes:
            self.nodes[key] = self._made(place, which, size)
        return self.nodes[key]

    def _made(self, place: RasterIndex, which: int, size: tuple[int, int]) -> Node:
        number, one, other = (int(part) for part in self.ways[place].origins[which])
        if number == ALONE:
            longest = self.raster.trimmer.longest
            return trimmed(self.prizes[one], *size, longest) if one >= 0 else Leaf(*size)
        cut = self.cuts[place][number]
        direction = DIRECTIONS[cut.axis]
        mark = along(self._size(cut.first), direction)
        first_size, rest_size = split(size, direction, mark)
        first = self._node(cut.first, one, first_size)
        rest = self._node(cut.rest, other, rest_size)
        return Chain(*size, direction, ((mark, first),), rest)

    def _size(self, place: RasterIndex) -> Shape:
        return self.raster.xs[place[0]], self.raster.ys[place[1]]

    def _frees(self, prize: ValuedRectangle, place: RasterIndex) -> bool:
        return self.raster.trimmer.frees(self._size(place), (prize.width, prize.height))


def _unbettered(ways: "Numbers", most: int) -> list[int]:
    """The rows, by number, that no other row equals or exceeds everywhere."""
    import numpy as np

    order = np.argsort(-ways.sum(axis=1), kind="stable")
    kept = np.empty_like(ways)
    numbers: list[int] = []
    for number in order:
        if not (kept[: len(numbers)] >= ways[number]).all(axis=1).any():
            kept[len(numbers)] = ways[number]
            numbers.append(int(number))
            if len(numbers) > most:
                raise TooManyPatternsError
    return numbers
