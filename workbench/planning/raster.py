"""The most valuable cutting of one sheet: dynamic programming over raster points.

Beasley, J. Oper. Res. Soc. 36 (1985) 297-306: only sums of piece sizes, and what they leave,
need be looked at as places to cut. Any number of levels of edge-to-edge cuts is allowed.
"""

import bisect
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from workbench.planning.blade import UNLIMITED, Blade
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

    def __init__(
        self, width: int, height: int, shapes: Iterable[tuple[int, int]], blade: Blade = UNLIMITED
    ) -> None:
        self.blade = blade
        fitting = [(w, h) for w, h in shapes if w <= width and h <= height]
        self.xs = raster_points(width, (w for w, _ in fitting))
        self.ys = raster_points(height, (h for _, h in fitting))

    @cached_property
    def splits(self) -> tuple[list[tuple["Table", "Table"]], list[tuple["Table", "Table"]]]:
        return self._splits_of(self.xs), self._splits_of(self.ys)

    def _splits_of(self, points: Sequence[int]) -> list[tuple["Table", "Table"]]:
        return limited_splits(points, self.blade.rule) if self._limited else splits_of(points)

    @cached_property
    def within(self) -> tuple[int, int]:
        """How many of the widths, and of the heights, are no longer than the longest cut."""
        longest = self.blade.longest
        return bisect.bisect_right(self.xs, longest), bisect.bisect_right(self.ys, longest)

    @property
    def _limited(self) -> bool:
        return max(self.sheet) > min(self.blade.longest, self.blade.rule)

    def _freed(self, prize: Prize, i: int, j: int) -> "Table":
        """Which rectangles, from number (i, j) up, the prize can be cut out of (Blade.frees)."""
        import numpy as np

        xs, ys = np.array(self.xs[i:])[:, None], np.array(self.ys[j:])[None, :]
        width, height = prize.width, prize.height
        longest, rule = self.blade.longest, self.blade.rule
        as_wide, as_high = xs == width, ys == height
        wide_first = (as_wide | (ys <= longest)) & (as_high | (width <= longest))
        high_first = (as_high | (xs <= longest)) & (as_wide | (height <= longest))
        across = as_wide | (np.minimum(width, xs - width) <= rule)
        up = as_high | (np.minimum(height, ys - height) <= rule)
        freed: Table = (wide_first | high_first) & across & up
        return freed

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
                worth = prize.value * (self._freed(prize, i, j) if self._limited else 1)
                np.maximum(table[i:, j:], worth, out=table[i:, j:])
        across, up = self.splits
        narrow, flat = self.within
        for i in range(1, len(self.xs)):
            row = table[i]
            firsts, rests = across[i]
            if len(firsts):
                joined = table[firsts, :flat] + table[rests, :flat]
                np.maximum(row[:flat], joined.max(axis=0), out=row[:flat])
            for j in range(1, len(self.ys) if i < narrow else 0):
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
            shape = (prize.width, prize.height)
            if prize.value == value and self.blade.frees((self.xs[i], self.ys[j]), shape):
                return trimmed(prize, width, height, self.blade.longest)
        across, up = self.splits
        narrow, flat = self.within
        for first, rest in zip(*across[i], strict=True) if j < flat else ():
            if table[first, j] + table[rest, j] == value:
                mark = self.xs[first]
                left = self._node(table, prizes, (first, j), (mark, height))
                right = self._node(table, prizes, (rest, j), (width - mark, height))
                return Chain(width, height, 0, ((mark, left),), right)
        for first, rest in zip(*up[j], strict=True) if i < narrow else ():
            if table[i, first] + table[i, rest] == value:
                mark = self.ys[first]
                low = self._node(table, prizes, (i, first), (width, mark))
                high = self._node(table, prizes, (i, rest), (width, height - mark))
                return Chain(width, height, 1, ((mark, low),), high)
        raise AssertionError("a value of the table has no cutting")


def splits_of(points: Sequence[int]) -> list[tuple["Table", "Table"]]:
    """For each point, the indices of a first part up to its half and of what that leaves."""
    import numpy as np

    found = []
    for point in points:
        firsts = np.arange(1, bisect.bisect_right(points, point // 2))
        remaining = [point - points[int(first)] for first in firsts]
        rests = np.array([bisect.bisect_right(points, left) - 1 for left in remaining], dtype=int)
        found.append((firsts, rests))
    return found


def limited_splits(points: Sequence[int], rule: int) -> list[tuple["Table", "Table"]]:
    """The same where the smaller part is no wider than the rule; and mere trims.

    A rectangle whose cuts the other way are too long has to be trimmed before it is cut on.
    """
    import numpy as np

    found = []
    for number, (firsts, rests) in enumerate(splits_of(points)):
        point = points[number]
        kept = [k for k in range(1, number) if min(points[k], point - points[k]) <= rule]
        short = firsts[np.array(points)[firsts] <= rule]
        found.append(
            (
                np.concatenate([short, np.array(kept, dtype=int)]),
                np.concatenate([rests[: len(short)], np.zeros(len(kept), dtype=int)]),
            )
        )
    return found


def trimmed(prize: Prize, width: int, height: int, longest: int) -> Node:
    """The prize cut from the corner of a rectangle, across first if such a cut is not too long."""
    node: Node = Leaf(prize.width, prize.height, prize.name, prize.turned)
    if height <= longest or prize.width == width:
        return _narrowed(_lowered(node, height), width)
    return _lowered(_narrowed(node, width), height)


def _narrowed(node: Node, width: int) -> Node:
    """A rectangle `width` wide, cut across to `node`."""
    if node.width == width:
        return node
    left_over = Leaf(width - node.width, node.height)
    return Chain(width, node.height, 0, ((node.width, node),), left_over)


def _lowered(node: Node, height: int) -> Node:
    """A rectangle `height` high, cut upwards to `node`."""
    if node.height == height:
        return node
    left_over = Leaf(node.width, height - node.height)
    return Chain(node.width, height, 1, ((node.height, node),), left_over)


def best_sheet(
    width: int, height: int, prizes: Sequence[Prize], *, turning: bool
) -> tuple[float, Node]:
    """The best value of one sheet, as many copies as fit, and a layout that has it."""
    wanted = both_ways(prizes) if turning else tuple(prizes)
    raster = Raster(width, height, [(prize.width, prize.height) for prize in wanted])
    table = raster.values(wanted)
    return table[-1, -1].item(), raster.layout(table, wanted)
