"""How few sheets are possible: the linear bound over every edge-to-edge cutting.

Column generation after Gilmore and Gomory, Operations Research 9 (1961) and 13 (1965), each new
layout found by the raster dynamic programme. The bound is restated in whole-number arithmetic
from the last prices, so that no rounding of the solver's can overstate it.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from workbench.planning.demand import Group, Source, Supply
from workbench.planning.layout import Chain, Leaf, Node, leaves
from workbench.planning.program import Answer, Program, rounded_up
from workbench.planning.raster import Prize, Raster
from workbench.planning.repertoire import repertoire
from workbench.planning.watch import Watch

_PRECISION = 10**7
_MISSING = 1000.0
_MOST_ROUNDS = 400
_SEED = 1
_FILLINGS = 24
_MOST_LEFT = 40
_REPAIRS = 6
_FAVOURS = (4, 5, 6, 7, 8)


@dataclass(frozen=True, slots=True)
class Pattern:
    """One sheet (or offcut) of kind number `kind`, cut one way: how many of each item it gives."""

    kind: int
    counts: Mapping[int, int]
    root: Node


@dataclass(frozen=True, slots=True)
class Kind:
    """Like sheets, or like offcuts, of papers that serve the same items.

    `cap` numbers the limit on dealt pieces that they share, if any.
    """

    source: Source
    available: int
    shapes: tuple[tuple[int, bool], ...]
    cap: int | None
    raster: Raster


@dataclass(frozen=True, slots=True)
class LinearBound:
    """`sheets`: fewer are impossible; None when the paper on hand cannot do at all."""

    sheets: int | None
    patterns: Sequence[Pattern]

    def roots(self, group: Group) -> list[Node]:
        """The patterns as trees of the group's items."""
        return [_named(group, pattern.root) for pattern in self.patterns]


def linear_bound(group: Group, watch: Watch, *, apart: bool = False) -> LinearBound:
    """Bound the sheets of `group` from below. Raises Cancelled.

    `apart`: keep each paper's sheets and limits apart, where like papers would be counted as
    one; the bound is no better, but the patterns suit each paper's own number of sheets.
    """
    return _Columns(group, apart).bounded(watch)


def dive(group: Group, known: LinearBound, watch: Watch) -> LinearBound:
    """More patterns, priced for what is left when most of the cutting is settled.

    The linear program's whole sheets are settled and its patterns priced again for the rest,
    sheet after sheet, so that the last sheets find patterns of their own. Raises Cancelled.
    """
    columns = _Columns(group, apart=False)
    columns.patterns = list(known.patterns)
    return columns.dived(watch)


def varied(group: Group, known: LinearBound, watch: Watch) -> LinearBound:
    """More patterns, for the last sheets, with hardly more of an item than is still due.

    Prices know nothing of what is left over when whole sheets are settled. Chance moves them
    here, the same way every time. Raises Cancelled.
    """
    columns = _Columns(group, apart=False)
    columns.patterns = list(known.patterns)
    columns.bounded(watch)
    columns.vary(watch)
    return LinearBound(None, columns.patterns)


def for_the_rest(
    group: Group, known: LinearBound, done: Mapping[str, int], watch: Watch
) -> LinearBound:
    """More patterns, priced for what is left once `done` of each item are had. Raises Cancelled."""
    columns = _Columns(group, apart=False)
    columns.patterns = list(known.patterns)
    columns.due = [max(0, item.least - done.get(item.name, 0)) for item in group.items]
    columns.bounded(watch, to_the_end=True)
    return LinearBound(None, columns.patterns)


def every_way(group: Group) -> list[Node]:
    """Every way worth listing to fill each kind of sheet. Raises TooManyError."""
    found = []
    columns = _Columns(group, apart=False)
    most = [item.copies for item in group.items]
    for kind in columns.kinds:
        prizes = [
            Prize(str(index), *columns.size(index, turned=turned), 0, turned)
            for index, turned in kind.shapes
        ]
        found += repertoire(kind.raster, prizes, most)
    return [_named(group, root) for root in found]


@dataclass
class _Columns:
    group: Group
    apart: bool
    due: list[int] = field(default_factory=list)
    available: list[int] = field(default_factory=list)
    kinds: list[Kind] = field(default_factory=list)
    caps: list[int] = field(default_factory=list)
    patterns: list[Pattern] = field(default_factory=list)

    def __post_init__(self) -> None:
        alike: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            traits = (supply.turns, self.group.eligible(supply), supply.dealt_limit)
            sizes = tuple((s.width, s.height, s.offcut, s.cost) for s in supply.sources)
            alike[traits, sizes, supply.paper if self.apart else ""].append(supply)
        for supplies in alike.values():
            self._add_kinds(supplies)
        self.due = [item.least for item in self.group.items]
        self.available = [kind.available for kind in self.kinds]

    def _add_kinds(self, supplies: list[Supply]) -> None:
        lead = supplies[0]
        cap = None
        if lead.dealt_limit is not None:
            cap = len(self.caps)
            eligible = (self.group.items[index] for index in self.group.eligible(lead))
            spare = sum(item.spare for item in eligible if item.dealt)
            self.caps.append(lead.dealt_limit * len(supplies) + spare)
        shapes = tuple(
            (index, turned)
            for index in self.group.eligible(lead)
            for turned in ((False, True) if lead.turns else (False,))
        )
        sizes = [self.size(index, turned=turned) for index, turned in shapes]
        for number, source in enumerate(lead.sources):
            available = sum(supply.sources[number].available for supply in supplies)
            if available:
                raster = Raster(source.width, source.height, sizes, self.group.blade)
                self.kinds.append(Kind(source, available, shapes, cap, raster))

    def size(self, index: int, *, turned: bool) -> tuple[int, int]:
        item = self.group.items[index]
        return (item.height, item.width) if turned else (item.width, item.height)

    def dived(self, watch: Watch) -> LinearBound:
        while any(self.due):
            if self.bounded(watch, to_the_end=True).sheets is None:
                break
            settled = Counter({which: int(use) for which, use in enumerate(self._uses())})
            if not any(settled.values()):
                settled[max(range(len(self.patterns)), key=lambda which: self._uses()[which])] = 1
            for which, times in settled.items():
                self._settle(self.patterns[which], times)
        return LinearBound(None, self.patterns)

    def vary(self, watch: Watch) -> None:
        """Fill the sheets that whole patterns leave over, again and again, by loaded dice."""
        chance = Random(_SEED)
        prices = _Prices.of(self.answer, self).items
        for which, use in enumerate(self._uses()):
            self._settle(self.patterns[which], int(use))
        seen = {(p.kind, frozenset(p.counts.items())) for p in self.patterns}
        for _ in range(_FILLINGS):
            watch.stage("looking for fuller sheets")
            due = list(self.due)
            for _ in range(_MOST_LEFT):
                if not any(due):
                    break
                number = chance.randrange(len(self.kinds))
                pattern = self._proper(number, self._favoured(number, prices, due, chance), due)
                for index, count in pattern.counts.items():
                    due[index] = max(0, due[index] - count)
                key = (number, frozenset(pattern.counts.items()))
                if key not in seen:
                    seen.add(key)
                    self.patterns.append(pattern)

    def _favoured(
        self, number: int, prices: Sequence[int], due: Sequence[int], chance: Random
    ) -> list[int]:
        """What each item still due is worth: its price and its share of the sheet, by favour."""
        whole = self.kinds[number].source.width * self.kinds[number].source.height
        worths = []
        for item, price, left in zip(self.group.items, prices, due, strict=True):
            share = _PRECISION * item.width * item.height // whole
            favour = chance.choice(_FAVOURS)
            worths.append((price + share) * favour if left else 0)
        return worths

    def _proper(self, number: int, worths: list[int], due: Sequence[int]) -> Pattern:
        """A valuable sheet with hardly more of an item than is due: what is over is worth less."""
        _, pattern = self._cut_for(number, worths)
        for _ in range(_REPAIRS):
            over = [index for index, count in pattern.counts.items() if count > due[index]]
            if not over:
                break
            for index in over:
                worths[index] = worths[index] * 3 // 4
            _, pattern = self._cut_for(number, worths)
        return pattern

    def _uses(self) -> Sequence[float]:
        return self.answer.values[: len(self.patterns)]

    def _settle(self, pattern: Pattern, times: int) -> None:
        self.available[pattern.kind] -= times
        for index, count in pattern.counts.items():
            self.due[index] = max(0, self.due[index] - times * count)

    def bounded(self, watch: Watch, *, to_the_end: bool = False) -> LinearBound:
        """Price patterns until the bound stands or, `to_the_end`, until none is worth adding."""
        best = 0
        for _ in range(_MOST_ROUNDS):
            watch.stage("finding how few sheets are possible")
            answer = self.answer = self._master().relaxed(watch)
            prices = _Prices.of(answer, self)
            found = [self._priced(number, prices) for number in range(len(self.kinds))]
            best = max(best, prices.bound(self, [value for value, _ in found]))
            fresh = [
                pattern
                for kind, limit, (value, pattern) in zip(
                    self.kinds, prices.kinds, found, strict=True
                )
                if value > kind.source.cost * _PRECISION + limit + len(self.group.items)
            ]
            stands = best >= rounded_up(answer.value)
            if not fresh or (stands and not to_the_end):
                return LinearBound(None if self._lacks(answer) else best, self.patterns)
            self.patterns += fresh
        return LinearBound(best, self.patterns)

    def _lacks(self, answer: Answer) -> bool:
        return any(value > 1 / _MISSING for value in answer.values[len(self.patterns) :])

    def _master(self) -> Program:
        program = Program()
        demand: list[dict[int, float]] = [{} for _ in self.group.items]
        capped: list[dict[int, float]] = [{} for _ in self.caps]
        taken: list[dict[int, float]] = [{} for _ in self.kinds]
        for pattern in self.patterns:
            kind = self.kinds[pattern.kind]
            column = program.column(cost=kind.source.cost)
            taken[pattern.kind][column] = -1
            for index, count in pattern.counts.items():
                demand[index][column] = count
            dealt = self._dealt(pattern)
            if kind.cap is not None and dealt:
                capped[kind.cap][column] = -dealt
        for index in range(len(self.group.items)):
            demand[index][program.column(cost=_MISSING)] = 1
        for due, terms in zip(self.due, demand, strict=True):
            program.row(due, terms)
        for limit, terms in zip(self.caps, capped, strict=True):
            program.row(-limit, terms)
        for available, terms in zip(self.available, taken, strict=True):
            program.row(-available, terms)
        return program

    def _dealt(self, pattern: Pattern) -> int:
        return sum(n for index, n in pattern.counts.items() if self.group.items[index].dealt)

    def _priced(self, number: int, prices: "_Prices") -> tuple[int, Pattern]:
        cap = self.kinds[number].cap
        penalty = prices.caps[cap] if cap is not None else 0
        worths = [
            max(0, price - (penalty if item.dealt else 0))
            for item, price in zip(self.group.items, prices.items, strict=True)
        ]
        return self._cut_for(number, worths)

    def _cut_for(self, number: int, worths: Sequence[int]) -> tuple[int, Pattern]:
        """The most valuable sheet of a kind, and its value."""
        kind = self.kinds[number]
        prizes = [
            Prize(str(index), *self.size(index, turned=turned), worths[index], turned)
            for index, turned in kind.shapes
        ]
        table = kind.raster.values(prizes)
        root = kind.raster.layout(table, prizes)
        counts = Counter(int(leaf.item) for leaf in leaves(root) if leaf.item is not None)
        return int(table[-1, -1]), Pattern(number, counts, root)


@dataclass(frozen=True, slots=True)
class _Prices:
    """The master's dual values, cut down to whole multiples of 1/_PRECISION."""

    items: list[int]
    caps: list[int]
    kinds: list[int]

    @classmethod
    def of(cls, answer: Answer, columns: _Columns) -> "_Prices":
        whole = [max(0, int(price * _PRECISION)) for price in answer.prices]
        items, caps = len(columns.group.items), len(columns.caps)
        return cls(whole[:items], whole[items : items + caps], whole[items + caps :])

    def bound(self, columns: _Columns, values: Sequence[int]) -> int:
        """A number of sheets that no cutting can beat, from these prices alone.

        Any prices bound the program once each kind's own is raised to what its best layout
        earns above the sheet's cost (linear programming duality).
        """
        total = sum(price * due for price, due in zip(self.items, columns.due, strict=True))
        total -= sum(p * limit for p, limit in zip(self.caps, columns.caps, strict=True))
        for kind, available, value in zip(columns.kinds, columns.available, values, strict=True):
            total -= max(0, value - kind.source.cost * _PRECISION) * available
        return max(0, -(-total // _PRECISION))


def _named(group: Group, root: Node) -> Node:
    """The pattern's tree with items by name, where prices know them by index."""
    if isinstance(root, Leaf):
        return root if root.item is None else replace(root, item=group.items[int(root.item)].name)
    cuts = tuple((mark, _named(group, first)) for mark, first in root.cuts)
    return Chain(root.width, root.height, root.direction, cuts, _named(group, root.rest))
