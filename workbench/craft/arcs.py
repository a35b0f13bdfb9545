"""Areas around rounded corners: exact wherever no arc is cut through, else to a billionth."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import asin, pi, sqrt

from workbench.craft.card import Corner
from workbench.craft.extent import Extent
from workbench.measure.length import Length

_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Area:
    """An area in square millimetres: `square` + `pi` times pi + `rest`. Areas add and subtract.

    Attributes:
        square: the exact rational part.
        pi: the exact number by which pi is multiplied.
        rest: 0 unless an edge or another arc cuts through an arc; such an area holds roots and
            angles, and is kept to a billionth of a square millimetre.
    """

    square: Fraction = Fraction(0)
    pi: Fraction = Fraction(0)
    rest: float = 0.0

    def __add__(self, other: "Area") -> "Area":
        return Area(self.square + other.square, self.pi + other.pi, self.rest + other.rest)

    def __sub__(self, other: "Area") -> "Area":
        return Area(self.square - other.square, self.pi - other.pi, self.rest - other.rest)

    def __float__(self) -> float:
        return float(self.square) + float(self.pi) * pi + self.rest


@dataclass(frozen=True, slots=True)
class Quarter:
    """The quarter disc that is left of a rounded corner.

    Attributes:
        square: the square at the corner, one radius wide, in which it lies.
        corner: which corner of the piece it is, opposite the disc's centre.
    """

    square: Extent
    corner: Corner

    @property
    def area(self) -> Area:
        """Its area, a quarter of pi times the radius squared."""
        return Area(pi=self.square.area / 4)

    @property
    def radius(self) -> Length:
        """The radius of the disc."""
        return self.square.width

    @property
    def centre(self) -> tuple[Length, Length]:
        """The x and y of the disc's centre, from the bottom left of the card's front."""
        square = self.square
        return (
            square.right if "left" in self.corner else square.left,
            square.top if "bottom" in self.corner else square.bottom,
        )


def left_open(cell: Extent, quarters: Sequence[Quarter]) -> Area:
    """The area of `cell` that none of the quarter discs covers.

    Args:
        cell: a rectangle within the square of each of them.
        quarters: the quarter discs, in any order; the same one may be there several times.
    """
    crossing = []
    for quarter in dict.fromkeys(quarters):
        near, far = _squared_distances(cell, quarter)
        if far <= quarter.radius.mm**2:
            return Area()
        if near < quarter.radius.mm**2:
            crossing.append(quarter)
    if not crossing:
        return Area(cell.area)
    if len(crossing) == 1 and crossing[0].square == cell:
        return Area(cell.area) - crossing[0].area
    return Area(rest=_swept(cell, [_Arc.of(quarter) for quarter in crossing]))


def covering_sets(cell: Extent, quarters: Sequence[Quarter]) -> set[frozenset[Quarter]]:
    """Which of the discs lie over one another somewhere in `cell`: each set that a spot shows.

    `cell` lies within the square of each. A strip narrower than a billionth of a millimetre is
    none.
    """
    whole, crossing = set[Quarter](), []
    for quarter in dict.fromkeys(quarters):
        near, far = _squared_distances(cell, quarter)
        if far <= quarter.radius.mm**2:
            whole.add(quarter)
        elif near < quarter.radius.mm**2:
            crossing.append(quarter)
    arcs = {quarter: _Arc.of(quarter) for quarter in crossing}
    left, right = float(cell.left.mm), float(cell.right.mm)
    found = set()
    for low, high in pairwise(_calm_heights(cell, tuple(arcs.values()))):
        middle = (low + high) / 2
        across = sorted({left, right, *(arc.at(middle) for arc in arcs.values())})
        for start, end in pairwise(min(max(x, left), right) for x in across):
            if end - start > _HAIR:
                spot = (start + end) / 2
                over = (quarter for quarter, arc in arcs.items() if arc.covers(spot, middle))
                found.add(frozenset((*whole, *over)))
    return found


def _squared_distances(cell: Extent, quarter: Quarter) -> tuple[Fraction, Fraction]:
    """From the centre to the nearest and the farthest corner of the cell."""
    x, y = quarter.centre
    across = sorted((abs(cell.left - x).mm, abs(cell.right - x).mm))
    up = sorted((abs(cell.bottom - y).mm, abs(cell.top - y).mm))
    return across[0] ** 2 + up[0] ** 2, across[1] ** 2 + up[1] ** 2


@dataclass(frozen=True, slots=True)
class _Arc:
    """A quarter circle as a line over y; the disc lies on its right where `leftward`."""

    x: float
    y: float
    radius: float
    leftward: bool

    @classmethod
    def of(cls, quarter: Quarter) -> "_Arc":
        x, y = quarter.centre
        return cls(float(x.mm), float(y.mm), float(quarter.radius.mm), "left" in quarter.corner)

    def at(self, y: float) -> float:
        reach = sqrt(max(0.0, self.radius**2 - (y - self.y) ** 2))
        return self.x - reach if self.leftward else self.x + reach

    def covers(self, x: float, y: float) -> bool:
        """Whether the disc covers a spot within the quarter's square."""
        return (x - self.x) ** 2 + (y - self.y) ** 2 <= self.radius**2

    def heights(self, x: float) -> Iterator[float]:
        """Where the circle meets the upright line at `x`."""
        square = self.radius**2 - (x - self.x) ** 2
        if square > 0:
            yield from (self.y - sqrt(square), self.y + sqrt(square))

    def meets(self, other: "_Arc") -> Iterator[float]:
        """The heights at which the two circles cross."""
        right, up = other.x - self.x, other.y - self.y
        apart = right**2 + up**2
        if apart == 0:
            return
        along = (apart + self.radius**2 - other.radius**2) / (2 * apart)
        aside = self.radius**2 / apart - along**2
        if aside >= 0:
            for way in (-1, 1):
                yield self.y + along * up + way * sqrt(aside) * right

    def swept(self, low: float, high: float) -> float:
        """The area between the arc and the upright line at nothing, from `low` to `high`."""
        reach = self._under(high) - self._under(low)
        return self.x * (high - low) + (-reach if self.leftward else reach)

    def _under(self, y: float) -> float:
        up = min(max(y - self.y, -self.radius), self.radius)
        root = sqrt(self.radius**2 - up**2)
        return (up * root + self.radius**2 * asin(up / self.radius)) / 2


@dataclass(frozen=True, slots=True)
class _Upright:
    """A side of the cell."""

    x: float

    def at(self, y: float) -> float:
        del y
        return self.x

    def swept(self, low: float, high: float) -> float:
        return self.x * (high - low)


_Edge = _Arc | _Upright


def _swept(cell: Extent, arcs: Sequence[_Arc]) -> float:
    """What no disc covers, between heights at which nothing crosses."""
    left, right = float(cell.left.mm), float(cell.right.mm)
    from_left: list[_Edge] = [_Upright(left), *(arc for arc in arcs if not arc.leftward)]
    from_right: list[_Edge] = [_Upright(right), *(arc for arc in arcs if arc.leftward)]
    area = 0.0
    for low, high in pairwise(_calm_heights(cell, arcs)):
        middle = (low + high) / 2
        start = max(from_left, key=lambda edge: edge.at(middle))
        end = min(from_right, key=lambda edge: edge.at(middle))
        if start.at(middle) < end.at(middle):
            area += end.swept(low, high) - start.swept(low, high)
    return area


def _calm_heights(cell: Extent, arcs: Sequence[_Arc]) -> list[float]:
    """The heights of the cell, in order, between which no arc crosses a side or another arc."""
    left, bottom, right, top = (
        float(edge.mm) for edge in (cell.left, cell.bottom, cell.right, cell.top)
    )
    heights = [height for arc in arcs for side in (left, right) for height in arc.heights(side)]
    heights += [height for one, other in combinations(arcs, 2) for height in one.meets(other)]
    return sorted({bottom, top, *(height for height in heights if bottom < height < top)})
