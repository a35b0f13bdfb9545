"""How few sheets are possible: the linear bound over every edge-to-edge cutting.

Sets: K, the classes of stock; P_k, the patterns of one sheet of class k; I, the items; C, caps on
dealt pieces. Parameters: c_k, 1 where a sheet counts and 0 where it is free; s_k, the sheets to
be had; a_ip, the copies of item i in pattern p; d_i, the copies needed; u_c, the dealt pieces
that the papers of cap c may give; D, the items that are dealt.
Variables: x_p >= 0, how often pattern p is cut.

    minimise    sum over k, p in P_k of c_k x_p
    subject to  sum over p of a_ip x_p >= d_i                          for each i
                sum over p under c, i in D of a_ip x_p <= u_c          for each c
                sum over p in P_k of x_p <= s_k                        for each k

Patterns are priced by `pricing` until none has a negative reduced cost. The bound is then
restated in whole-number arithmetic from the last prices, so that no rounding of the solver's can
overstate it. Source: Gilmore and Gomory, Operations Research 9 (1961) 849-859 and 13 (1965)
94-120.
"""

import logging
import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from workbench.planning.bound.bounded_dp import TooManyStatesError
from workbench.planning.bound.guillotine_dp import ValuedRectangle
from workbench.planning.bound.pricing import SheetPricer
from workbench.planning.instance.instance import Subproblem
from workbench.planning.instance.stock_classes import StockClass, StockClasses
from workbench.planning.layouts.tree import Node, leaves
from workbench.planning.limits import Limits
from workbench.planning.milp import NEARLY, Milp, MilpResult, rounded_up
from workbench.planning.progress import Watch

_log = logging.getLogger(__name__)

PRECISION = 10**7
_MISSING = 1000.0


@dataclass(frozen=True, slots=True)
class Pattern:
    """One sheet (or offcut) of stock class number `stock`, cut one way.

    `counts` says how many it gives of each item, by id.
    """

    stock: int
    counts: Mapping[int, int]
    root: Node

    @classmethod
    def of(cls, stock: int, root: Node) -> "Pattern":
        """The pattern that cuts a sheet of that class as `root` says."""
        counts = Counter(leaf.item for leaf in leaves(root) if leaf.item is not None)
        return cls(stock, counts, root)


@dataclass(frozen=True, slots=True)
class LinearBound:
    """`sheets`: fewer are impossible; None when the paper on hand cannot do at all.

    `pricers` has one for each of the `classes`. `uses` is how often the linear program takes each
    of the `patterns`; `prices` are its last.
    """

    classes: StockClasses
    pricers: Sequence[SheetPricer]
    sheets: int | None
    patterns: Sequence[Pattern]
    uses: Sequence[float]
    prices: "Prices"

    def roots(self) -> list[Node]:
        """The patterns as trees."""
        return [pattern.root for pattern in self.patterns]

    def used(self) -> list[Node]:
        """Those that the linear program takes, as trees."""
        pairs = zip(self.patterns, self.uses, strict=False)
        return [pattern.root for pattern, times in pairs if times > NEARLY]


@dataclass(frozen=True, slots=True)
class Prices:
    """The linear program's dual values, cut down to whole multiples of 1/PRECISION.

    `items`, `caps` and `classes` of stock are priced apiece; `total` is what no cutting of the
    group can cost less than.
    """

    items: Sequence[int]
    caps: Sequence[int]
    classes: Sequence[int]
    total: int

    @classmethod
    def none(cls, classes: StockClasses) -> "Prices":
        """Nothing is worth anything: true of every group."""
        return cls(
            (0,) * len(classes.group.items), (0,) * len(classes.caps), (0,) * len(classes.every), 0
        )

    @property
    def sheets(self) -> int:
        """A number of sheets that no cutting can beat."""
        return max(0, -(-self.total // PRECISION))

    def worths(self, stock: StockClass, classes: StockClasses) -> dict[int, int]:
        """What each item, by id, is worth when it is cut from that class of sheet."""
        items = classes.group.items
        worths = {item.id: price for item, price in zip(items, self.items, strict=True)}
        for number in stock.caps:
            for item_id, weight in classes.caps[number].weights.items():
                worths[item_id] -= math.floor(self.caps[number] * weight)
        return {item_id: max(0, worth) for item_id, worth in worths.items()}


def priced(stock: StockClass, worths: Mapping[int, int]) -> tuple[ValuedRectangle, ...]:
    """What may be cut from a class of sheet, each item worth what `worths` says by its id."""
    return tuple(
        ValuedRectangle(item.item, item.width, item.height, worths[item.item], item.turned)
        for item in stock.items
    )


def linear_bound(
    group: Subproblem,
    watch: Watch,
    *,
    apart: bool = False,
    known: Sequence[Pattern] = (),
    start: Sequence[Pattern] = (),
) -> LinearBound:
    """Bound the sheets of `group` from below. Raises Cancelled.

    `apart`: keep each paper's sheets and limits apart, where like papers would be counted as
    one; the bound is no better, but the patterns suit each paper's own number of sheets.

    With `known` patterns to begin with, prices are improved as far as they go; from a `start`
    only as far as the bound needs.
    """
    columns = _Columns(StockClasses(group, apart), watch.limits, [*known, *start])
    return columns.bounded(watch, to_the_end=bool(known))


@dataclass(frozen=True, slots=True)
class _Priced:
    """No pattern of a class is worth more, as far as was looked; one that is worth adding."""

    value: int
    fresh: Pattern | None = None


@dataclass
class _Columns:
    classes: StockClasses
    limits: Limits
    patterns: list[Pattern] = field(default_factory=list)

    def __post_init__(self) -> None:
        trimmer = self.classes.group.trimmer
        self.pricers = [
            SheetPricer(stock.source.width, stock.source.height, stock.shapes, trimmer, self.limits)
            for stock in self.classes.every
        ]

    def bounded(self, watch: Watch, *, to_the_end: bool) -> LinearBound:
        """Price patterns until the bound stands or, `to_the_end`, until none is worth adding."""
        best = Prices.none(self.classes)
        for _ in range(watch.limits.pricing_rounds):
            watch.stage("finding how few sheets are possible")
            answer = self._master().solve_relaxation(watch)
            prices = self._prices(answer)
            found = [self._soon(number, prices, watch) for number in range(len(self._every))]
            soon = any(one.fresh for one in found)
            if self._all_places:
                best = max(best, self._sure(prices, [one.value for one in found]), key=_total)
            elif not soon:
                found = [self._best(number, prices, watch) for number in range(len(self._every))]
                best = max(best, self._surest(prices, [one.value for one in found]), key=_total)
            fresh = [one.fresh for one in found if one.fresh]
            # Where places are many, prices are good enough once none of few places betters them.
            enough = not to_the_end or not (self._all_places or soon)
            stands = enough and best.sheets >= rounded_up(answer.value)
            if not fresh or stands:
                break
            self.patterns += fresh
        sheets = None if self._lacks(answer) else best.sheets
        _log.debug(
            "bound: %s sheets by %d patterns of %d classes",
            sheets,
            len(self.patterns),
            len(self._every),
        )
        return LinearBound(self.classes, self.pricers, sheets, self.patterns, answer.values, best)

    @property
    def _every(self) -> Sequence[StockClass]:
        return self.classes.every

    @property
    def _all_places(self) -> bool:
        return all(pricer.raster.exact for pricer in self.pricers)

    def _lacks(self, answer: MilpResult) -> bool:
        """Whether even in parts of sheets something is missing."""
        return any(
            value > 1 / _MISSING for value in answer.values[-len(self.classes.group.items) :]
        )

    def _master(self) -> Milp:
        program = Milp()
        items = self.classes.group.items
        demand: list[dict[int, float]] = [{} for _ in items]
        capped: list[dict[int, float]] = [{} for _ in self.classes.caps]
        taken: list[dict[int, float]] = [{} for _ in self._every]
        places = {item.id: place for place, item in enumerate(items)}
        for pattern in self.patterns:
            stock = self._every[pattern.stock]
            column = program.add_column(cost=stock.source.cost)
            taken[pattern.stock][column] = -1
            for item_id, count in pattern.counts.items():
                demand[places[item_id]][column] = count
            for number in stock.caps:
                dealt = self._dealt(pattern, number)
                if dealt:
                    capped[number][column] = -float(dealt)
        for terms in demand:
            terms[program.add_column(cost=_MISSING)] = 1
        for item, terms in zip(items, demand, strict=True):
            program.add_row(item.least, terms)
        for cap, terms in zip(self.classes.caps, capped, strict=True):
            program.add_row(-cap.most, terms)
        for stock, terms in zip(self._every, taken, strict=True):
            program.add_row(-stock.available, terms)
        return program

    def _dealt(self, pattern: Pattern, cap: int) -> Fraction:
        """What a sheet cut so counts for of a cap, by its number."""
        weights = self.classes.caps[cap].weights
        counted = (weights.get(i, Fraction()) * n for i, n in pattern.counts.items())
        return sum(counted, Fraction())

    def _prices(self, answer: MilpResult) -> Prices:
        whole = [max(0, int(price * PRECISION)) for price in answer.prices]
        items, caps = len(self.classes.group.items), len(self.classes.caps)
        return Prices(whole[:items], whole[items : items + caps], whole[items + caps :], 0)

    def _soon(self, number: int, prices: Prices, watch: Watch) -> "_Priced":
        """A valuable sheet of a class, the best where all places are looked at."""
        value, root = self.pricers[number].soon(self._priced(number, prices), watch)
        worth_it = value > self._enough(number, prices)
        return _Priced(int(value), Pattern.of(number, root) if worth_it else None)

    def _best(self, number: int, prices: Prices, watch: Watch) -> "_Priced":
        """The most valuable sheet of a class if that is worth adding, or what none is above."""
        pricer, prizes = self.pricers[number], self._priced(number, prices)
        enough = self._enough(number, prices)
        try:
            found = pricer.above(prizes, enough, watch)
        except TooManyStatesError:
            return _Priced(math.ceil(pricer.ceiling(prizes, watch) + NEARLY))
        if found is None:
            return _Priced(enough)
        return _Priced(int(found[0]), Pattern.of(number, found[1]))

    def _enough(self, number: int, prices: Prices) -> int:
        """What a pattern of a class must be worth more than to be worth adding."""
        return (
            self._every[number].source.cost * PRECISION + prices.classes[number] + len(prices.items)
        )

    def _priced(self, number: int, prices: Prices) -> tuple[ValuedRectangle, ...]:
        stock = self._every[number]
        return priced(stock, prices.worths(stock, self.classes))

    def _surest(self, prices: Prices, values: Sequence[int]) -> Prices:
        """The prices as they are, or cut down until no class's best layout earns above its cost.

        Where sheets abound the second bounds better (Farley, Operations Research 38 (1990)).
        """
        costs = [stock.source.cost * PRECISION for stock in self._every]
        earning = [
            Fraction(cost, value) for cost, value in zip(costs, values, strict=True) if cost < value
        ]
        share = min((one for one in earning if one), default=Fraction(1))
        fewer = Prices(
            [math.floor(price * share) for price in prices.items],
            [math.ceil(price * share) for price in prices.caps],
            prices.classes,
            0,
        )
        lower = [math.ceil(value * share) for value in values]
        return max(self._sure(prices, values), self._sure(fewer, lower), key=_total)

    def _sure(self, prices: Prices, values: Sequence[int]) -> Prices:
        """The prices, each class's own raised to what its best layout earns above its cost.

        Then they bound the program, whatever they are (linear programming duality).
        """
        earned = [
            max(0, value - stock.source.cost * PRECISION)
            for stock, value in zip(self._every, values, strict=True)
        ]
        items = self.classes.group.items
        total = sum(price * item.least for price, item in zip(prices.items, items, strict=True))
        total -= sum(p * cap.most for p, cap in zip(prices.caps, self.classes.caps, strict=True))
        total -= sum(e * stock.available for e, stock in zip(earned, self._every, strict=True))
        return Prices(prices.items, prices.caps, earned, total)


def _total(prices: Prices) -> int:
    return prices.total
