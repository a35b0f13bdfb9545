"""The most valuable cutting of one sheet with many places: only parts that matter are built on.

F(x, y) is that of `guillotine_dp`. Let k(z) be what lines of length z are worth at best: the
knapsack of the pieces' widths, each worth v_p / h_p for every unit of its height; l(z) likewise of
their heights. No line across a cutting of W by H that has an x by y part is worth more than k(W),
or k(W - x) beside that part, so that what lies around the part is worth at most

    R(x, y) = min(y k(W - x) + (H - y) k(W), x l(H - y) + (W - x) l(H)).

Where all that is asked for is a cutting worth more than a floor, a part is left out of others if
F(x, y) + R(x, y) is not; and so is one that a narrower or a lower part equals, or one that is
itself put together in the direction in which it would be joined. Every cutting above the floor is
found for all that: take its parts apart until none of them can be bettered so. Few parts remain,
so that each is put beside all the others in one stroke of the arithmetic.

Floors are tried from just below W k(W) and H l(H) downwards: the higher, the fewer parts there are.

Sources: leaving out what is equalled follows the improvements of Russo, Sforza and Sterle (Int. J.
Production Economics 145 (2013) 451-462) to Gilmore and Gomory's knapsack function; bounding what
lies around a part, G, Seong and Kang (Operations Research Letters 31 (2003) 301-307).
"""

import bisect
import math
from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from workbench.planning.bound.guillotine_dp import (
    Raster,
    RasterIndex,
    ValuedRectangle,
    raster_points,
    sums_of,
)
from workbench.planning.instance.trimmer_limits import UNLIMITED, TrimmerLimits
from workbench.planning.layouts.tree import Node
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.progress import Watch

if TYPE_CHECKING:
    import numpy as np

    from workbench.planning.bound.guillotine_dp import Table

    Indices = np.ndarray[Any, np.dtype[np.intp]]

NEAREST, WIDER = 1e-5, 3
"""How deep below the bound, as a share of it, the first floor lies, and by what each is deeper."""
NOT_FAR = 2
"""How many times as deep what is known already lies, where it is the next floor itself."""
_SURE = 1 + 1e-9
_SPARSE = 4


Parts = tuple["Indices", "Indices"]


class TooManyStatesError(Exception):
    """Raised when a sheet has more places, or more parts that matter, than are worth the time."""


class BoundedRaster(Raster):
    """Every place of a sheet. Its tables are right wherever a cutting above their floor is.

    Raises:
        TooManyStatesError: there are too many places.
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
        self.exact = True
        self.whole = width, height
        self.steps = limits.raster_steps
        self.share = NEAREST
        fitting = [(w, h) for w, h in shapes if w <= width and h <= height]
        if min(max(self.whole), trimmer.longest) > 2 * trimmer.rule:
            raise TooManyStatesError
        fixed = self.whole if self._limited else (0, 0)
        self.xs, self.even = _grid(width, [w for w, _ in fitting], fixed[0], limits)
        self.ys = _every_point(height, [h for _, h in fitting], limits)
        if len(self.xs) * len(self.ys) > limits.raster_cells:
            raise TooManyStatesError

    @property
    def sheet(self) -> tuple[int, int]:
        """The width and height of the sheet, in units of the instance."""
        return self.whole

    @cached_property
    def _sides(self) -> Parts:
        import numpy as np

        return np.array(self.xs), np.array(self.ys)

    @cached_property
    def _fitting(self) -> tuple["Indices", "Indices"]:
        """By length, the index of the largest width, and of the largest height, up to it."""
        import numpy as np

        return (
            np.searchsorted(self.xs, np.arange(self.xs[-1] + 1), "right") - 1,
            np.searchsorted(self.ys, np.arange(self.ys[-1] + 1), "right") - 1,
        )

    def parts(self, axis: int, number: int) -> Parts:
        """As on any raster: first parts up to the half of a side; where limited, trims too."""
        import numpy as np

        firsts, rests = self._all_parts(axis, number)
        half = self._sides[axis][firsts] <= self._sides[axis][number] // 2
        if not self._limited:
            return firsts[half], rests[half]
        return (
            np.concatenate([firsts[half], firsts]),
            np.concatenate([rests[half], np.zeros(len(firsts), dtype=np.intp)]),
        )

    def _all_parts(self, axis: int, number: int) -> Parts:
        """Every first part that the rule reaches, and the rest."""
        import numpy as np

        sides = self._sides[axis]
        firsts = np.arange(1, number)
        left = sides[number] - sides[firsts]
        able = np.minimum(sides[firsts], left) <= self.trimmer.rule
        return firsts[able], self._fitting[axis][left[able]]

    def _split(self, table: "Table", at: RasterIndex, axis: int) -> RasterIndex | None:
        import numpy as np

        if at[1 - axis] >= self.within[1 - axis]:
            return None
        firsts, rests = self._all_parts(axis, at[axis])
        line = table[:, at[1]] if axis == 0 else table[at[0]]
        (found,) = np.nonzero((line[firsts] > 0) & (line[firsts] + line[rests] == table[at]))
        return (int(firsts[found[0]]), int(rests[found[0]])) if len(found) else None

    def _least(self, table: "Table", at: RasterIndex) -> RasterIndex:
        """The narrowest and lowest part worth as much: what is beyond it is cut last."""
        import numpy as np

        i, j = at
        if i >= self.within[0] or j >= self.within[1]:
            return at
        i = int(np.searchsorted(table[: i + 1, j], table[at]))
        return i, int(np.searchsorted(table[i, : j + 1], table[at]))

    def best_above(
        self, prizes: Sequence[ValuedRectangle], floor: float, watch: Watch
    ) -> tuple[float, Node] | None:
        """The most valuable cutting of the sheet and its value, if that is more than `floor`.

        Raises TooManyStatesError, Cancelled.
        """
        ceiling = LineBounds(self.whole, prizes).ceiling
        best: tuple[float, Node] | None = None
        share = self.share
        while floor < ceiling:
            deeper = math.ceil(ceiling * (1 - share)) - 1
            tried = floor if ceiling - floor < NOT_FAR * (ceiling - deeper) else deeper
            table = self.values_above(prizes, tried, watch)
            value = table[-1, -1].item()
            if value > floor:
                best, floor = (value, self.layout(table, prizes)), value
                self.share = max(NEAREST, share / WIDER)
            if floor >= tried:
                break
            share *= WIDER
        return best

    def values_above(
        self, prizes: Sequence[ValuedRectangle], floor: float, watch: Watch
    ) -> "Table":
        """The table of a cutting worth more than `floor`, if there is one.

        Raises TooManyStatesError, Cancelled.
        """
        return _Sweep(self, prizes, floor).table(watch)


class LineBounds:
    """What lines across a sheet, and so the parts around another, are worth at best."""

    def __init__(self, sheet: tuple[int, int], prizes: Sequence[ValuedRectangle]) -> None:
        self.width, self.height = sheet
        fitting = [p for p in prizes if p.width <= self.width and p.height <= self.height]
        self.across = _lines(self.width, [(p.width, p.value / p.height) for p in fitting])
        self.up = _lines(self.height, [(p.height, p.value / p.width) for p in fitting])

    @property
    def ceiling(self) -> float:
        """No cutting of the sheet is worth more."""
        most = min(self.height * self.across[-1], self.width * self.up[-1])
        return float(most) * _SURE

    def around(self, widths: "Indices", height: int) -> "Table":
        """No more than that lies around a part of each of the widths and of that height."""
        import numpy as np

        beside = height * self.across[self.width - widths]
        beside += (self.height - height) * self.across[-1]
        above = widths * self.up[self.height - height] + (self.width - widths) * self.up[-1]
        most: Table = np.minimum(beside, above) * _SURE
        return most


class _Sweep:
    """One table, filled row by row from the lowest up."""

    def __init__(
        self, raster: BoundedRaster, prizes: Sequence[ValuedRectangle], floor: float
    ) -> None:
        import numpy as np

        self.raster = raster
        self.prizes = prizes
        self.bounds = LineBounds(raster.whole, prizes)
        whole = all(isinstance(prize.value, int) for prize in prizes)
        self.least: float = math.floor(floor) + 1 if whole else math.nextafter(floor, math.inf)
        self.step = 1 if whole else 0
        small = self.bounds.ceiling < np.iinfo(np.int32).max
        self.kind = (np.int32 if small else np.int64) if whole else np.float64
        self.wide, self.high = raster.within
        self.widths = raster._sides[0][: self.wide]
        # A row of the table is one height, so that rows lie in one piece.
        self.rows = np.zeros((len(raster.ys), len(raster.xs)), dtype=self.kind)
        self.stacked = _Stacked(self.kind)

    def table(self, watch: Watch) -> "Table":
        whole = self.wide == len(self.raster.xs) and self.high == len(self.raster.ys)
        self._place()
        for j in range(1, self.high):
            if j % 64 == 0:
                watch.go_on()
            self._fill(j)
            if whole and self._closes(j):
                break
        if not whole:
            self._last_line()
        return self.rows.T

    def _place(self) -> None:
        raster = self.raster
        for prize in self.prizes:
            i = bisect.bisect_left(raster.xs, prize.width)
            j = bisect.bisect_left(raster.ys, prize.height)
            if i < self.wide and j < self.high:
                self.rows[j, i] = max(self.rows[j, i], prize.value)

    def _fill(self, j: int) -> None:
        """One row: what is stacked in it, then what is put side by side in it."""
        import numpy as np

        raster, height = self.raster, self.raster.ys[j]
        below = self.rows[j - 1, : self.wide]
        stacked = below.copy()
        under = raster._fitting[1][height - self.stacked.heights]
        self.stacked.raise_to(stacked, self.rows, under)
        own = np.maximum(self.rows[j, : self.wide], stacked)
        np.maximum.accumulate(own, out=own)
        needed = self.least - self.bounds.around(self.widths, height)
        row = own.copy()
        matter = (own[1:] > own[:-1]) & (own[1:] > below[1:]) & (own[1:] >= needed[1:])
        joins = self._join(row, own, np.flatnonzero(matter) + 1)
        self.rows[j, : self.wide] = row
        matter = (row[1:] > stacked[1:]) & (row[1:] > row[:-1]) & (row[1:] >= needed[1:])
        self.stacked.add(np.flatnonzero(matter) + 1, height, row)
        raster.steps -= len(under) + joins * len(row)
        if raster.steps < 0:
            raise TooManyStatesError

    def _join(self, row: "Table", own: "Table", firsts: "Indices") -> int:
        """Raise a row to the best side by side, each first part any number of times."""
        import numpy as np

        joined = np.zeros_like(row)
        joins = 0
        for i in firsts.tolist():
            value = own[i].item()
            if joined[i] >= value or row[i - 1] >= value:
                continue
            # Once, twice, four times ... the same part: together any number of it.
            width, times = self.raster.xs[i], 1
            while width * times <= self.raster.xs[-1]:
                start, rest = self._beside(width * times)
                if start >= len(row):
                    break
                better = row[rest] + value * times
                np.maximum(joined[start:], better, out=joined[start:])
                np.maximum(row[start:], better, out=row[start:])
                times *= 2
                joins += 1
        return joins

    def _beside(self, width: int) -> tuple[int, "slice | Indices"]:
        """From which index on a part that wide fits, and the indices of what it leaves."""
        if self.raster.even:
            start = width // self.raster.even
            return start, slice(0, max(0, self.wide - start))
        start = bisect.bisect_left(self.raster.xs, width)
        return start, self.raster._fitting[0][self.widths[start:] - width]

    def _closes(self, j: int) -> bool:
        """Raise the floor to what this row gives, stacked on itself; whether nothing is above."""
        import numpy as np

        ys, high = self.raster.ys, self.raster.ys[j]
        times, left = divmod(ys[-1], high)
        rest, full = self.rows[bisect.bisect_right(ys, left) - 1, -1], self.rows[j, -1]
        value = (full * times + rest).item()
        if value < self.least:
            return False
        self.least = value
        stack = [left + high * number for number in range(1, times + 1)]
        if value + self.step <= self.bounds.ceiling or not set(stack) <= set(ys):
            return False
        # What is left out between is of no use to anything above the floor.
        column = self.rows[:, -1]
        for number, height in enumerate(stack, 1):
            at = bisect.bisect_left(ys, height)
            column[at] = max(column[at], full * number + rest)
        np.maximum.accumulate(column, out=column)
        return True

    def _last_line(self) -> None:
        """Where a side is longer than the longest cut: all the cuts along it, and single pieces."""
        raster, table = self.raster, self.rows.T
        corner = len(raster.xs) - 1, len(raster.ys) - 1
        for prize in self.prizes:
            i = bisect.bisect_left(raster.xs, prize.width)
            j = bisect.bisect_left(raster.ys, prize.height)
            if i <= corner[0] and j <= corner[1]:
                free = raster._freed(prize, i, j)
                for line, where in ((table[i:, -1], free[:, -1]), (table[-1, j:], free[-1])):
                    line[where] = line[where].clip(prize.value)
        for axis in (0, 1):
            if corner[1 - axis] >= raster.within[1 - axis]:
                continue
            line = table[:, -1] if axis == 0 else table[-1]
            for number in range(raster.within[axis], len(line)):
                firsts, rests = raster._all_parts(axis, number)
                if len(firsts):
                    line[number] = max(line[number], (line[firsts] + line[rests]).max())


class _Stacked:
    """The parts that others are stacked on, in the order of their heights."""

    def __init__(self, kind: type) -> None:
        import numpy as np

        self.count = 0
        self._places = np.empty(1024, dtype=np.intp)
        self._heights = np.empty(1024, dtype=np.intp)
        self._values: Table = np.empty(1024, dtype=kind)

    @property
    def heights(self) -> "Indices":
        return self._heights[: self.count]

    def add(self, places: "Indices", height: int, row: "Table") -> None:
        import numpy as np

        end = self.count + len(places)
        while end > len(self._places):
            self._places = np.resize(self._places, 2 * len(self._places))
            self._heights = np.resize(self._heights, 2 * len(self._heights))
            self._values = np.resize(self._values, 2 * len(self._values))
        self._places[self.count : end] = places
        self._heights[self.count : end] = height
        self._values[self.count : end] = row[places]
        self.count = end

    def raise_to(self, row: "Table", rows: "Table", under: "Indices") -> None:
        """Raise a row to each part and what lies under it, by the index of its height."""
        import numpy as np

        places = self._places[: self.count]
        np.maximum.at(row, places, self._values[: self.count] + rows[under, places])


def _lines(length: int, parts: Iterable[tuple[int, float]]) -> "Table":
    """What a line of each length up to `length` holds at best of parts (size, worth)."""
    import numpy as np

    best = np.zeros(length + 1)
    for size, worth in parts:
        times = 1
        while size * times <= length:
            held = best[: -size * times] + worth * times
            np.maximum(best[size * times :], held, out=best[size * times :])
            times *= 2
    np.maximum.accumulate(best, out=best)
    return best


def _every_point(length: int, sizes: Sequence[int], limits: Limits) -> list[int]:
    sums = sums_of(length, sizes, limits.raster_cells)
    return raster_points(length, sums)


def _grid(length: int, sizes: Sequence[int], fixed: int, limits: Limits) -> tuple[list[int], int]:
    """Places in even steps, and the step, unless that would be many more places than needed."""
    points = _every_point(length, sizes, limits)
    step = math.gcd(fixed, *sizes)
    if step and length // step < _SPARSE * len(points):
        return list(range(0, length + 1, step)), step
    return points, 0
