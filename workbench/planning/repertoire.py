"""Every way to fill one sheet: the sets of pieces it can give that no other way betters.

The raster dynamic programme again, with sets of counts where `raster` keeps one value. Any
number of levels of edge-to-edge cuts is allowed, so that an integer program over the whole
repertoire is exact. It is only listed where it is short: few pieces fit on the sheet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from workbench.planning.layout import Chain, Leaf, Node
from workbench.planning.raster import Prize, Raster, trimmed

if TYPE_CHECKING:
    import numpy as np

    Counts = np.ndarray[Any, np.dtype[np.int16]]

MOST_WAYS = 400
MOST_SUMS = 1_000_000
MOST_SPLITS = 900


class TooManyError(Exception):
    """Raised when a sheet can be filled in more ways than are worth listing."""


def repertoire(raster: Raster, prizes: Sequence[Prize], most: Sequence[int]) -> list[Node]:
    """A layout for each way that is not bettered, pieces beyond `most` of a name not counted.

    `prizes` name the index of a piece in `most`; their values are not looked at. Raises
    TooManyError.
    """
    return _Repertoire(raster, prizes, most).layouts()


@dataclass
class _Repertoire:
    raster: Raster
    prizes: Sequence[Prize]
    most: Sequence[int]
    sums: int = 0
    ways: list[list["Counts"]] = field(default_factory=list)

    def layouts(self) -> list[Node]:
        if sum(len(firsts) for splits in self.raster.splits for firsts, _ in splits) > MOST_SPLITS:
            raise TooManyError
        for i in range(len(self.raster.xs)):
            self.ways.append([])
            for j in range(len(self.raster.ys)):
                self.ways[i].append(self._ways(i, j))
        last = (len(self.raster.xs) - 1, len(self.raster.ys) - 1)
        return [self._node(way, last, self.raster.sheet) for way in self.ways[-1][-1]]

    def _ways(self, i: int, j: int) -> "Counts":
        import numpy as np

        row = self.ways[i]
        most = np.array(self.most, dtype=np.int16)
        found = [self._single(i, j)]
        found += [self._together(self.ways[a][j], self.ways[b][j]) for a, b in self._across(i, j)]
        found += [self._together(row[a], row[b]) for a, b in self._up(i, j)]
        return _unbettered(np.unique(np.minimum(np.concatenate(found), most), axis=0))

    def _across(self, i: int, j: int) -> Iterator[tuple[int, int]]:
        """The pairs of widths into which a rectangle can be cut."""
        possible = j < self.raster.within[1]
        return zip(*self.raster.splits[0][i], strict=True) if possible else iter(())

    def _up(self, i: int, j: int) -> Iterator[tuple[int, int]]:
        """The pairs of heights into which a rectangle can be cut."""
        possible = i < self.raster.within[0]
        return zip(*self.raster.splits[1][j], strict=True) if possible else iter(())

    def _single(self, i: int, j: int) -> "Counts":
        """Nothing, or any one piece that fits."""
        import numpy as np

        rows = {(0,) * len(self.most)}
        for prize in self.prizes:
            if self._frees(prize, i, j):
                which = int(prize.name)
                rows.add(tuple(int(number == which) for number in range(len(self.most))))
        return np.array(sorted(rows), dtype=np.int16)

    def _together(self, some: "Counts", others: "Counts") -> "Counts":
        self.sums += len(some) * len(others)
        if self.sums > MOST_SUMS:
            raise TooManyError
        return (some[:, None, :] + others[None, :, :]).reshape(-1, len(self.most))

    def _node(self, way: "Counts", at: tuple[int, int], size: tuple[int, int]) -> Node:
        """A tree of cuts that gives at least `way`."""
        i, j = at
        width, height = size
        if not way.any():
            return Leaf(width, height)
        if way.sum() == 1:
            prize = self._fitting(int(way.argmax()), i, j)
            return trimmed(prize, width, height, self.raster.blade.longest)
        xs, ys = self.raster.xs, self.raster.ys
        for a, b in self._across(i, j):
            parts = self._parts(way, self.ways[a][j], self.ways[b][j])
            if parts:
                left = self._node(parts[0], (a, j), (xs[a], height))
                right = self._node(parts[1], (b, j), (width - xs[a], height))
                return Chain(width, height, 0, ((xs[a], left),), right)
        for a, b in self._up(i, j):
            parts = self._parts(way, self.ways[i][a], self.ways[i][b])
            if parts:
                low = self._node(parts[0], (i, a), (width, ys[a]))
                high = self._node(parts[1], (i, b), (width, height - ys[a]))
                return Chain(width, height, 1, ((ys[a], low),), high)
        raise AssertionError("a way of the repertoire has no cutting")

    def _fitting(self, which: int, i: int, j: int) -> Prize:
        return next(
            prize for prize in self.prizes if int(prize.name) == which and self._frees(prize, i, j)
        )

    def _frees(self, prize: Prize, i: int, j: int) -> bool:
        whole = (self.raster.xs[i], self.raster.ys[j])
        return self.raster.blade.frees(whole, (prize.width, prize.height))

    def _parts(
        self, way: "Counts", some: "Counts", others: "Counts"
    ) -> tuple["Counts", "Counts"] | None:
        """Two ways that together give `way`, cut down to it."""
        import numpy as np

        enough = ((some[:, None, :] + others[None, :, :]) >= way).all(axis=2)
        if not enough.any():
            return None
        one, _ = np.unravel_index(int(enough.argmax()), enough.shape)
        first = np.minimum(some[one], way)
        return first, way - first


def _unbettered(ways: "Counts") -> "Counts":
    """The rows that no other row equals or exceeds everywhere."""
    import numpy as np

    ordered = ways[np.argsort(-ways.sum(axis=1), kind="stable")]
    kept = ordered[:0]
    for way in ordered:
        if not (kept >= way).all(axis=1).any():
            kept = np.vstack([kept, way])
            if len(kept) > MOST_WAYS:
                raise TooManyError
    return kept
