"""The most valuable cutting of one sheet: dynamic programming over raster points.

Beasley, J. Oper. Res. Soc. 36 (1985) 297-306: only sums of piece sizes, and what they leave,
need be looked at as places to cut. Any number of levels of edge-to-edge cuts is allowed.
"""

import bisect
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from workbench.planning.layout import Chain, Leaf, Node

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[Any]]


@dataclass(frozen=True, slots=True)
class Prize:
    """A rectangle as it lies on the sheet and what one is worth (0 or more)."""

    name: str
    width: int
    height: int
    value: float
    turned: bool = False


def both_ways(prizes: Iterable[Prize]) -> tuple[Prize, ...]:
    """Each upright and, where that differs, turned."""
    found = []
    for prize in prizes:
        found.append(prize)
        if prize.width != prize.height:
            found.append(Prize(prize.name, prize.height, prize.width, prize.value, turned=True))
    return tuple(found)


def raster_points(length: int, sizes: Iterable[int]) -> list[int]:
    """The widths a part of `length` need have: 0, `length` less a sum, down to a sum, `length`."""
    sums = {0}
    for size in sorted({size for size in sizes if size <= length}):
        for start in sorted(sums):
            total = start + size
            while total <= length and total not in sums:
                sums.add(total)
                total += size
    ordered = sorted(sums)
    points = {ordered[bisect.bisect_right(ordered, length - point) - 1] for point in ordered}
    return sorted(points | {0, length})


class Raster:
    """The raster of a sheet for given shapes; `best` may be asked again at other values."""

    def __init__(self, width: int, height: int, shapes: Iterable[tuple[int, int]]) -> None:
        fitting = [(w, h) for w, h in shapes if w <= width and h <= height]
        self.xs = raster_points(width, (w for w, _ in fitting))
        self.ys = raster_points(height, (h for _, h in fitting))

    @cached_property
    def _splits(self) -> tuple[list[tuple["Table", "Table"]], list[tuple["Table", "Table"]]]:
        return _splits(self.xs), _splits(self.ys)

    def values(self, prizes: Sequence[Prize]) -> "Table":
        """The best value of every rectangle of the raster, exact for whole-number values."""
        import numpy as np

        whole = all(isinstance(prize.value, int) for prize in prizes)
        table = np.zeros((len(self.xs), len(self.ys)), dtype=np.int64 if whole else np.float64)
        for prize in prizes:
            i, j = (
                bisect.bisect_left(self.xs, prize.width),
                bisect.bisect_left(self.ys, prize.height),
            )
            if i < len(self.xs) and j < len(self.ys) and prize.value > 0:
                np.maximum(table[i:, j:], prize.value, out=table[i:, j:])
        across, up = self._splits
        for i in range(1, len(self.xs)):
            row = table[i]
            firsts, rests = across[i]
            if len(firsts):
                np.maximum(row, (table[firsts] + table[rests]).max(axis=0), out=row)
            for j in range(1, len(self.ys)):
                firsts, rests = up[j]
                if len(firsts):
                    best = (row[firsts] + row[rests]).max()
                    row[j] = max(row[j], best)
        return table

    def layout(self, table: "Table", prizes: Sequence[Prize]) -> Node:
        """A cutting worth the last entry of `table`."""
        return self._node(table, prizes, (len(self.xs) - 1, len(self.ys) - 1), self.sheet)

    @property
    def sheet(self) -> tuple[int, int]:
        return self.xs[-1], self.ys[-1]

    def _node(
        self, table: "Table", prizes: Sequence[Prize], at: tuple[int, int], size: tuple[int, int]
    ) -> Node:
        i, j = at
        width, height = size
        value = table[i, j]
        if value <= 0:
            return Leaf(width, height)
        for prize in prizes:
            if prize.value == value and prize.width <= width and prize.height <= height:
                return _trimmed(prize, width, height)
        across, up = self._splits
        for first, rest in zip(*across[i], strict=True):
            if table[first, j] + table[rest, j] == value:
                mark = self.xs[first]
                left = self._node(table, prizes, (first, j), (mark, height))
                right = self._node(table, prizes, (rest, j), (width - mark, height))
                return Chain(width, height, 0, ((mark, left),), right)
        for first, rest in zip(*up[j], strict=True):
            if table[i, first] + table[i, rest] == value:
                mark = self.ys[first]
                low = self._node(table, prizes, (i, first), (width, mark))
                high = self._node(table, prizes, (i, rest), (width, height - mark))
                return Chain(width, height, 1, ((mark, low),), high)
        raise AssertionError("a value of the table has no cutting")


def _splits(points: Sequence[int]) -> list[tuple["Table", "Table"]]:
    """For each point, the indices of a first part up to its half and of what that leaves."""
    import numpy as np

    found = []
    for point in points:
        firsts = np.arange(1, bisect.bisect_right(points, point // 2))
        remaining = [point - points[int(first)] for first in firsts]
        rests = np.array([bisect.bisect_right(points, left) - 1 for left in remaining], dtype=int)
        found.append((firsts, rests))
    return found


def _trimmed(prize: Prize, width: int, height: int) -> Node:
    node: Node = Leaf(prize.width, prize.height, prize.name, prize.turned)
    if prize.height < height:
        left_over = Leaf(prize.width, height - prize.height)
        node = Chain(prize.width, height, 1, ((prize.height, node),), left_over)
    if prize.width < width:
        left_over = Leaf(width - prize.width, height)
        node = Chain(width, height, 0, ((prize.width, node),), left_over)
    return node


def best_sheet(
    width: int, height: int, prizes: Sequence[Prize], *, turning: bool
) -> tuple[float, Node]:
    """The best value of one sheet, as many copies as fit, and a layout that has it."""
    wanted = both_ways(prizes) if turning else tuple(prizes)
    raster = Raster(width, height, [(prize.width, prize.height) for prize in wanted])
    table = raster.values(wanted)
    return table[-1, -1].item(), raster.layout(table, wanted)
