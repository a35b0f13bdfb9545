"""How few sheets are possible: the linear bound over every edge-to-edge cutting.

Column generation after Gilmore and Gomory, Operations Research 9 (1961) and 13 (1965), each new
layout found by the raster dynamic programme. The bound is restated in whole-number arithmetic
from the last prices, so that no rounding of the solver's can overstate it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from workbench.planning.instance.instance import Group
from workbench.planning.instance.stock_classes import Kind, Kinds, Pattern
from workbench.planning.layouts.tree import Node
from workbench.planning.milp import NEARLY, Answer, Program, rounded_up
from workbench.planning.progress import Watch

PRECISION = 10**7
_MISSING = 1000.0
_MOST_ROUNDS = 400


@dataclass(frozen=True, slots=True)
class LinearBound:
    """`sheets`: fewer are impossible; None when the paper on hand cannot do at all.

    `uses` is how often the linear program takes each of the `patterns`; `prices` are its last.
    """

    kinds: Kinds
    sheets: int | None
    patterns: Sequence[Pattern]
    uses: Sequence[float]
    prices: "Prices"

    def roots(self) -> list[Node]:
        """The patterns as trees of the group's items."""
        return [self.kinds.named(pattern.root) for pattern in self.patterns]


@dataclass(frozen=True, slots=True)
class Prices:
    """The linear program's dual values, cut down to whole multiples of 1/PRECISION.

    `items`, `caps` and `kinds` are priced apiece; `total` is what no cutting of the group can
    cost less than.
    """

    items: Sequence[int]
    caps: Sequence[int]
    kinds: Sequence[int]
    total: int

    @classmethod
    def none(cls, kinds: Kinds) -> "Prices":
        """Nothing is worth anything: true of every group."""
        return cls(
            (0,) * len(kinds.group.items), (0,) * len(kinds.caps), (0,) * len(kinds.every), 0
        )

    @property
    def sheets(self) -> int:
        """A number of sheets that no cutting can beat."""
        return max(0, -(-self.total // PRECISION))

    def worths(self, kind: Kind, group: Group) -> list[int]:
        """What each item is worth when it is cut from that kind of sheet."""
        penalty = self.caps[kind.cap] if kind.cap is not None else 0
        return [
            max(0, price - (penalty if item.dealt else 0))
            for item, price in zip(group.items, self.items, strict=True)
        ]


def linear_bound(
    group: Group, watch: Watch, *, apart: bool = False, known: Sequence[Pattern] = ()
) -> LinearBound:
    """Bound the sheets of `group` from below. Raises Cancelled.

    `apart`: keep each paper's sheets and limits apart, where like papers would be counted as
    one; the bound is no better, but the patterns suit each paper's own number of sheets.

    With `known` patterns to begin with, prices are improved as far as they go.
    """
    columns = _Columns(Kinds(group, apart), list(known))
    return columns.bounded(watch, to_the_end=bool(known))


@dataclass
class _Columns:
    kinds: Kinds
    patterns: list[Pattern] = field(default_factory=list)

    def bounded(self, watch: Watch, *, to_the_end: bool) -> LinearBound:
        """Price patterns until the bound stands or, `to_the_end`, until none is worth adding."""
        best = Prices.none(self.kinds)
        for _ in range(_MOST_ROUNDS):
            watch.stage("finding how few sheets are possible")
            answer = self._master().relaxed(watch)
            prices = self._prices(answer)
            found = [self._best(number, prices, watch) for number in range(len(self._every))]
            if self._exact:
                best = max(best, self._sure(prices, [value for value, _ in found]), key=_total)
            fresh = [
                pattern
                for kind, own, (value, pattern) in zip(
                    self._every, prices.kinds, found, strict=True
                )
                if value > kind.source.cost * PRECISION + own + len(prices.items)
            ]
            stands = not to_the_end and best.sheets >= rounded_up(answer.value)
            if not fresh or stands:
                break
            self.patterns += fresh
        if not self._exact:
            best = self._surest(prices, [self._ceiling(k, prices, watch) for k in self._every])
        sheets = None if self._lacks(answer) else best.sheets
        return LinearBound(self.kinds, sheets, self.patterns, answer.values, best)

    @property
    def _every(self) -> Sequence[Kind]:
        return self.kinds.every

    @property
    def _exact(self) -> bool:
        return all(kind.raster.exact for kind in self._every)

    def _lacks(self, answer: Answer) -> bool:
        """Whether even in parts of sheets something is missing."""
        return any(value > 1 / _MISSING for value in answer.values[-len(self.kinds.group.items) :])

    def _master(self) -> Program:
        program = Program()
        items = self.kinds.group.items
        demand: list[dict[int, float]] = [{} for _ in items]
        capped: list[dict[int, float]] = [{} for _ in self.kinds.caps]
        taken: list[dict[int, float]] = [{} for _ in self._every]
        for pattern in self.patterns:
            kind = self._every[pattern.kind]
            column = program.column(cost=kind.source.cost)
            taken[pattern.kind][column] = -1
            for index, count in pattern.counts.items():
                demand[index][column] = count
            dealt = self.kinds.dealt(pattern)
            if kind.cap is not None and dealt:
                capped[kind.cap][column] = -dealt
        for terms in demand:
            terms[program.column(cost=_MISSING)] = 1
        for item, terms in zip(items, demand, strict=True):
            program.row(item.least, terms)
        for limit, terms in zip(self.kinds.caps, capped, strict=True):
            program.row(-limit, terms)
        for kind, terms in zip(self._every, taken, strict=True):
            program.row(-kind.available, terms)
        return program

    def _prices(self, answer: Answer) -> Prices:
        whole = [max(0, int(price * PRECISION)) for price in answer.prices]
        items, caps = len(self.kinds.group.items), len(self.kinds.caps)
        return Prices(whole[:items], whole[items : items + caps], whole[items + caps :], 0)

    def _best(self, number: int, prices: Prices, watch: Watch) -> tuple[int, Pattern]:
        """The most valuable sheet of a kind that was found, and its value."""
        kind = self._every[number]
        prizes = kind.priced(prices.worths(kind, self.kinds.group))
        table = kind.raster.values(prizes, watch)
        return int(table[-1, -1]), Pattern.of(number, kind.raster.layout(table, prizes))

    def _ceiling(self, kind: Kind, prices: Prices, watch: Watch) -> int:
        prizes = kind.priced(prices.worths(kind, self.kinds.group))
        return math.ceil(kind.raster.ceiling(prizes, watch) + NEARLY)

    def _surest(self, prices: Prices, values: Sequence[int]) -> Prices:
        """The prices as they are, or cut down until no kind's best layout earns above its cost.

        Where sheets abound the second bounds better (Farley, Operations Research 38 (1990)).
        """
        costs = [kind.source.cost * PRECISION for kind in self._every]
        earning = [
            Fraction(cost, value) for cost, value in zip(costs, values, strict=True) if cost < value
        ]
        share = min((one for one in earning if one), default=Fraction(1))
        fewer = Prices(
            [math.floor(price * share) for price in prices.items],
            [math.ceil(price * share) for price in prices.caps],
            prices.kinds,
            0,
        )
        lower = [math.ceil(value * share) for value in values]
        return max(self._sure(prices, values), self._sure(fewer, lower), key=_total)

    def _sure(self, prices: Prices, values: Sequence[int]) -> Prices:
        """The prices, each kind's own raised to what its best layout earns above its cost.

        Then they bound the program, whatever they are (linear programming duality).
        """
        earned = [
            max(0, value - kind.source.cost * PRECISION)
            for kind, value in zip(self._every, values, strict=True)
        ]
        items = self.kinds.group.items
        total = sum(price * item.least for price, item in zip(prices.items, items, strict=True))
        total -= sum(p * limit for p, limit in zip(prices.caps, self.kinds.caps, strict=True))
        total -= sum(e * kind.available for e, kind in zip(earned, self._every, strict=True))
        return Prices(prices.items, prices.caps, earned, total)


def _total(prices: Prices) -> int:
    return prices.total
