"""The most valuable cutting of one sheet: a dynamic programme over raster points.

Sets: P, the pieces that may be cut, each any number of times; X and Y, the raster points of the
sheet's width and height. Parameters: v_p, what piece p is worth; (w_p, h_p), its shape.

    F(x, y) = max of  v_p             over pieces p that can be cut out of x by y, and 0
                      F(s, y) + F([x - s], y)    over s in X, s <= x / 2
                      F(x, t) + F(x, [y - t])    over t in Y, t <= y / 2

where [z] is the largest raster point up to z. F(width, height) is the best value over cuttings by
edge-to-edge cuts of any depth. Where the trimmer is short, only cuts that it makes are taken.

Sources: the recursion is Gilmore and Gomory's (Operations Research 14 (1966) 1045-1074), here as
in Beasley, J. Oper. Res. Soc. 36 (1985) 297-306. The sums of sizes are the normal patterns of
Herz (IBM J. Res. Dev. 16 (1972) 462-469) and of Christofides and Whitlock (Operations Research 25
(1977) 30-44), which Beasley uses; raster points are their reduction by Terno, Lindemann and
Scheithauer (Zuschnittprobleme und ihre praktische Loesung, 1987). All but Beasley from memory.

Where such places are many (`Limits.raster_points`), those of few pieces are looked at: what is
found can be cut. Whether anything betters it is told by `bounded_dp` or, where that would take too
long, bounded by a raster of slightly smaller pieces.
"""

import bisect
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import UNLIMITED, TrimmerLimits
from workbench.planning.layouts.tree import Chain, Leaf, Node
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.progress import UNWATCHED, Watch
from workbench.planning.shape import DIRECTIONS, HEIGHT, WIDTH, along, with_side

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[Any]]

_LONG_ROW = 1_000
"""Values of a row from which parts are better joined one pair after another."""

RasterIndex = tuple[int, int]
"""A rectangle of the raster: the indices of its width and its height."""


@dataclass(frozen=True, slots=True)
class ValuedRectangle:
    """A rectangle as it lies on the sheet and what one of the `item` is worth (0 or more)."""

    item: int
    width: int
    height: int
    value: float
    turned: bool = False


def sums_of(length: int, sizes: Iterable[int], most: int) -> list[int]:
    """Sums of sizes up to `length`, 0 among them: those of the fewest first, `most` or more."""
    fitting = sorted({size for size in sizes if size <= length})
    sums, latest = {0}, {0}
    while latest and len(sums) < most:
        latest = {total + size for total in latest for size in fitting if total + size <= length}
        latest -= sums
        sums |= latest
    return sorted(sums)


def raster_points(length: int, sums: Sequence[int]) -> list[int]:
    """The widths a part of `length` need have: 0, `length` less a sum, down to a sum, `length`."""
    points = {sums[bisect.bisect_right(sums, length - point) - 1] for point in sums}
    return sorted(points | {0, length})


def places(length: int, sizes: Sequence[int], limits: Limits = DEFAULT) -> tuple[list[int], bool]:
    """Where to cut, and whether those are all the places worth it."""
    sums = sums_of(length, sizes, limits.raster_sums)
    points = raster_points(length, sums)
    if len(sums) < limits.raster_sums and len(points) <= limits.raster_points:
        return points, True
    rows = {total for size in sizes for total in range(size, length + 1, size)}
    kept = sorted(rows)[:: math.ceil(len(rows) / limits.raster_points)]
    others = sums[:: math.ceil(len(sums) / (limits.raster_points // 2))]
    return raster_points(length, sorted({0, *kept, *others})), False


class Raster:
    """The raster of a sheet for given shapes; the best may be asked again at other values.

    `exact`: no cutting is better than the best found on it.
    """

    def __init__(
        self,
        width: int,
        height: int,
        shapes: Iterable[tuple[int, int]],
        trimmer: TrimmerLimits = UNLIMITED,
        limits: Limits = DEFAULT,
    ) -> None:
        self.trimmer = trimmer
        self.limits = limits
        fitting = [(w, h) for w, h in shapes if w <= width and h <= height]
        self.xs, across = places(width, [w for w, _ in fitting], limits)
        self.ys, up = places(height, [h for _, h in fitting], limits)
        self.exact = across and up

    @cached_property
    def splits(self) -> tuple[list[tuple["Table", "Table"]], list[tuple["Table", "Table"]]]:
        """For each width and each height by index, the indices of the parts it may be cut in."""
        return self._splits_of(self.xs), self._splits_of(self.ys)

    def parts(self, axis: int, number: int) -> tuple["Table", "Table"]:
        """The same of one width (axis 0) or height (axis 1), by its index."""
        return self.splits[axis][number]

    def _splits_of(self, points: Sequence[int]) -> list[tuple["Table", "Table"]]:
        return limited_splits(points, self.trimmer.rule) if self._limited else splits_of(points)

    @cached_property
    def within(self) -> tuple[int, int]:
        """How many of the widths, and of the heights, are no longer than the longest cut."""
        longest = self.trimmer.longest
        return bisect.bisect_right(self.xs, longest), bisect.bisect_right(self.ys, longest)

    @property
    def _limited(self) -> bool:
        return max(self.sheet) > min(self.trimmer.longest, self.trimmer.rule)

    def _freed(self, prize: ValuedRectangle, i: int, j: int) -> "Table":
        """Which rectangles, from number (i, j) up, the prize can be cut out of."""
        import numpy as np

        xs, ys = np.array(self.xs[i:])[:, None], np.array(self.ys[j:])[None, :]
        width, height = prize.width, prize.height
        longest, rule = self.trimmer.longest, self.trimmer.rule
        as_wide, as_high = xs == width, ys == height
        wide_first = (as_wide | (ys <= longest)) & (as_high | (width <= longest))
        high_first = (as_high | (xs <= longest)) & (as_wide | (height <= longest))
        across = as_wide | (np.minimum(width, xs - width) <= rule)
        up = as_high | (np.minimum(height, ys - height) <= rule)
        freed: Table = (wide_first | high_first) & across & up
        return freed

    def values(self, prizes: Sequence[ValuedRectangle], watch: Watch = UNWATCHED) -> "Table":
        """The best value of every rectangle of the raster, exact for whole-number values."""
        (table,) = self.tables([prizes], watch)
        return table

    def tables(
        self,
        pricings: Sequence[Sequence[ValuedRectangle]],
        watch: Watch,
        gaps: Iterable[tuple[int, int]] | None = None,
    ) -> list["Table"]:
        """The values for each pricing of the same shapes, for little more work than for one.

        With `gaps`, only of rectangles up to those sizes. Raises Cancelled.
        """
        import numpy as np

        worths = np.array([[prize.value for prize in prizes] for prizes in pricings]).T
        table = np.zeros((len(self.xs), len(self.ys), len(pricings)), dtype=worths.dtype)
        tops = self._tops(gaps)
        self._cut_single(table[: len(tops), : tops[0]], pricings[0], worths)
        narrow, flat = self.within
        for i, top in enumerate(tops):
            watch.go_on()
            row = table[i]
            low = min(flat, top)
            self._join(row[:low], table[:, :low], self._across[i])
            for run in self._runs if i < narrow else ():
                if run.below >= top:
                    break
                run.raise_heights(row, top)
        return [np.ascontiguousarray(table[:, :, which]) for which in range(len(pricings))]

    def _cut_single(
        self, table: "Table", prizes: Sequence[ValuedRectangle], worths: "Table"
    ) -> None:
        """Raise every rectangle of a table to what any one of the prizes is worth."""
        import numpy as np

        across, up, _ = table.shape
        for prize, worth in zip(prizes, worths, strict=True):
            i = bisect.bisect_left(self.xs, prize.width)
            j = bisect.bisect_left(self.ys, prize.height)
            if i < across and j < up and self._limited:
                freed = self._freed(prize, i, j)[: across - i, : up - j, None] * worth
                np.maximum(table[i:, j:], freed, out=table[i:, j:])
            elif i < across and j < up:
                np.maximum(table[i, j], worth, out=table[i, j])
        if not self._limited:
            np.maximum.accumulate(table, axis=0, out=table)
            np.maximum.accumulate(table, axis=1, out=table)

    def _tops(self, gaps: Iterable[tuple[int, int]] | None) -> list[int]:
        """For each width by index, how many of the heights are asked for; none for the widest."""
        tops = [0] * len(self.xs)
        for width, height in [self.sheet] if gaps is None else gaps:
            widest = bisect.bisect_right(self.xs, width)
            tops[widest - 1] = max(tops[widest - 1], bisect.bisect_right(self.ys, height))
        for i in reversed(range(1, len(tops))):
            tops[i - 1] = max(tops[i - 1], tops[i])
        return [top for top in tops if top]

    @staticmethod
    def _join(row: "Table", table: "Table", parts: tuple["Table", "Table"]) -> None:
        """Raise the rectangles of one width to the best pair of parts side by side."""
        import numpy as np

        firsts, rests = parts
        if row.size < _LONG_ROW and len(firsts):
            np.maximum(row, (table[firsts] + table[rests]).max(axis=0), out=row)
            return
        for first, rest in zip(firsts.tolist(), rests.tolist(), strict=True):
            np.maximum(row, table[first] + table[rest], out=row)

    def _useful(self, axis: int) -> list[tuple["Table", "Table"]]:
        """The splits of the widths or the heights, less trims of what can be cut both ways.

        Such a rectangle is worth no less than any within it.
        """
        able = min(self.trimmer.longest, 2 * self.trimmer.rule)
        sides = (self.xs, self.ys)[axis]
        return [
            (firsts[rests > 0], rests[rests > 0]) if side <= able else (firsts, rests)
            for side, (firsts, rests) in zip(sides, self.splits[axis], strict=True)
        ]

    @cached_property
    def _across(self) -> list[tuple["Table", "Table"]]:
        return self._useful(0)

    @cached_property
    def _runs(self) -> list["_Run"]:
        """The heights in runs, each put together only of heights below it."""
        runs: list[_Run] = []
        for j, (firsts, rests) in enumerate(self._useful(1)):
            if len(firsts):
                if not runs or not runs[-1].takes(j, max(firsts.max(), rests.max())):
                    runs.append(_Run(j))
                runs[-1].add(firsts, rests)
        return runs

    def ceiling(self, prizes: Sequence[ValuedRectangle], watch: Watch) -> float:
        """No cutting of the sheet is worth more; the best one's value, if the raster is exact."""
        if self.exact:
            return float(self.values(prizes, watch)[-1, -1])
        width, height = self.sheet
        most = self.limits.raster_points
        across, up = math.ceil(width / most), math.ceil(height / most)
        fitting = [prize for prize in prizes if prize.width <= width and prize.height <= height]
        if any(prize.width < across or prize.height < up for prize in fitting):
            return max(p.value * width * height / (p.width * p.height) for p in fitting)
        # What fits still fits when every length is cut down to a whole number of steps.
        smaller = [replace(p, width=p.width // across, height=p.height // up) for p in fitting]
        shapes = [(prize.width, prize.height) for prize in smaller]
        coarse = Raster(width // across, height // up, shapes, limits=self.limits)
        return float(coarse.values(smaller, watch)[-1, -1])

    def layout(self, table: "Table", prizes: Sequence[ValuedRectangle]) -> Node:
        """A cutting worth the last entry of `table`."""
        return self.part(table, prizes, self.sheet)

    def part(
        self, table: "Table", prizes: Sequence[ValuedRectangle], size: tuple[int, int]
    ) -> Node:
        """The most valuable cutting of a rectangle of any size, as `table` has it."""
        i = bisect.bisect_right(self.xs, size[0]) - 1
        j = bisect.bisect_right(self.ys, size[1]) - 1
        return self._node(table, prizes, (i, j), size)

    @property
    def sheet(self) -> tuple[int, int]:
        """The width and height of the sheet, in units of the instance."""
        return self.xs[-1], self.ys[-1]

    def _node(
        self,
        table: "Table",
        prizes: Sequence[ValuedRectangle],
        at: tuple[int, int],
        size: tuple[int, int],
    ) -> Node:
        if table[at] <= 0:
            return Leaf(*size)
        at = self._least(table, at)
        prize = self._alone(table, prizes, at)
        if prize:
            return trimmed(prize, *size, self.trimmer.longest)
        axis = 0 if self._split(table, at, 0) else 1
        cuts = []
        here, left = list(at), list(size)
        while split := self._goes_on(table, prizes, (here[0], here[1]), axis):
            first, rest = split
            mark = (self.xs, self.ys)[axis][first]
            end, part = list(here), list(left)
            end[axis], part[axis] = first, mark
            node = self._node(table, prizes, (end[0], end[1]), (part[0], part[1]))
            cuts.append((mark, node))
            here[axis] = rest
            left[axis] -= mark
        rest_node = self._node(table, prizes, (here[0], here[1]), (left[0], left[1]))
        return Chain(*size, DIRECTIONS[axis], tuple(cuts), rest_node)

    def _least(self, table: "Table", at: RasterIndex) -> RasterIndex:
        """A rectangle, up to that one, worth as much."""
        del table
        return at

    def _alone(
        self, table: "Table", prizes: Sequence[ValuedRectangle], at: tuple[int, int]
    ) -> ValuedRectangle | None:
        """A prize that by itself is worth what the table says."""
        whole = self.xs[at[0]], self.ys[at[1]]
        for prize in prizes:
            if prize.value == table[at] and self.trimmer.frees(whole, (prize.width, prize.height)):
                return prize
        return None

    def _goes_on(
        self, table: "Table", prizes: Sequence[ValuedRectangle], at: tuple[int, int], axis: int
    ) -> tuple[int, int] | None:
        """The next cut of a chain along that axis; None where the rest is cut otherwise."""
        if table[at] <= 0 or self._alone(table, prizes, at):
            return None
        return self._split(table, at, axis)

    def _split(self, table: "Table", at: tuple[int, int], axis: int) -> tuple[int, int] | None:
        """Two parts that together are worth what the table says, by their place on the raster."""
        import numpy as np

        if at[1 - axis] >= self.within[1 - axis]:
            return None
        firsts, rests = self.parts(axis, at[axis])
        line = table[:, at[1]] if axis == 0 else table[at[0]]
        (found,) = np.nonzero(line[firsts] + line[rests] == table[at])
        return (int(firsts[found[0]]), int(rests[found[0]])) if len(found) else None


class _Run:
    """Heights from number `below` on, and the pairs of lower ones that each is cut into."""

    def __init__(self, below: int) -> None:
        self.below = below
        self._parts: list[tuple[Table, Table]] = []

    def takes(self, height: int, part: int) -> bool:
        """Whether a height is the next one and its highest part is below them all."""
        return height == self.below + len(self._parts) and part < self.below

    def add(self, firsts: "Table", rests: "Table") -> None:
        """The next height's parts."""
        self._parts.append((firsts, rests))

    @cached_property
    def _pairs(self) -> tuple["Table", "Table"]:
        """A column for each height: its first parts, and the rests; then nothing and nothing."""
        import numpy as np

        most = max(len(firsts) for firsts, _ in self._parts)
        pairs = np.zeros((2, most, len(self._parts)), dtype=np.intp)
        for column, parts in enumerate(self._parts):
            pairs[:, : len(parts[0]), column] = parts
        return pairs[0], pairs[1]

    def raise_heights(self, row: "Table", top: int) -> None:
        """Raise the rectangles of one width, up to height number `top`, to the best pair."""
        import numpy as np

        firsts, rests = self._pairs
        heights = row[self.below : min(top, self.below + len(self._parts))]
        if len(heights) < len(self._parts):
            firsts, rests = firsts[:, : len(heights)], rests[:, : len(heights)]
        pairs = row.take(firsts, axis=0)
        pairs += row.take(rests, axis=0)
        np.maximum(heights, pairs.max(axis=0), out=heights)


def splits_of(points: Sequence[int]) -> list[tuple["Table", "Table"]]:
    """For each point, the indices of a first part up to its half and of what that leaves."""
    import numpy as np

    places = np.array(points)
    found = []
    for point in points:
        firsts = np.arange(1, bisect.bisect_right(points, point // 2))
        found.append((firsts, np.searchsorted(places, point - places[firsts], "right") - 1))
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


def trimmed(prize: ValuedRectangle, width: int, height: int, longest: int) -> Node:
    """The prize cut from the corner of a rectangle, across first if such a cut is not too long."""
    node: Node = Leaf(prize.width, prize.height, prize.item, prize.turned)
    first = WIDTH if height <= longest or prize.width == width else HEIGHT
    whole = width, height
    return _trimmed_to(
        _trimmed_to(node, first.other, along(whole, first.other)), first, along(whole, first)
    )


def _trimmed_to(node: Node, direction: Direction, side: int) -> Node:
    """A rectangle `side` long in `direction`, cut once to leave `node`."""
    mark = along(node.shape, direction)
    if mark == side:
        return node
    left_over = Leaf(*with_side(node.shape, direction, side - mark))
    return Chain(*with_side(node.shape, direction, side), direction, ((mark, node),), left_over)
