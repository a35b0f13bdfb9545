"""Papers of a group that can stand for one another: counted as one, or cut alike."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from itertools import islice, product

from workbench.planning.instance.instance import Source, Subproblem, Supply
from workbench.planning.mixing.assignment_rows import merged_counts
from workbench.planning.shape import Shape


@dataclass(frozen=True, slots=True)
class Oriented:
    """An item, by its id, as it may lie on a sheet: `turned` it lies on its side."""

    item: int
    width: int
    height: int
    turned: bool


@dataclass(frozen=True, slots=True)
class StockClass:
    """Like sheets, or like offcuts, of papers that serve the same items.

    `supplies` are those papers, with these sheets as their source of that `number`; `available`
    counts the sheets of all of them. `items` are what may be cut, each way it may lie. `caps`
    number the limits on dealt pieces that the papers share.
    """

    supplies: tuple[Supply, ...]
    number: int
    available: int
    items: tuple[Oriented, ...]
    caps: tuple[int, ...]

    @property
    def source(self) -> Source:
        """The sheets, as the first of the papers has them."""
        return self.supplies[0].sources[self.number]

    @property
    def shapes(self) -> list[Shape]:
        """The shapes that may be cut, in the order of `items`."""
        return [(item.width, item.height) for item in self.items]


@dataclass(frozen=True, slots=True)
class StockCap:
    """No more than `most` dealt pieces may come from the papers of a class, spares among them.

    `weights` say, by item id, what share of one each piece counts for.
    """

    weights: Mapping[int, Fraction]
    most: int


@dataclass
class StockClasses:
    """The classes of a group's stock, and `caps`: how many dealt pieces their papers may give.

    `apart`: each paper is a class of its own, though others be like it.
    """

    group: Subproblem
    apart: bool = False
    every: list[StockClass] = field(default_factory=list)
    caps: list[StockCap] = field(default_factory=list)

    def __post_init__(self) -> None:
        alike: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            traits = (supply.turns, self.group.eligible(supply), supply.limits)
            sizes = tuple((s.width, s.height, s.offcut, s.cost) for s in supply.sources)
            alike[traits, sizes, supply.paper if self.apart else ""].append(supply)
        for supplies in alike.values():
            self._add(supplies)

    def _add(self, supplies: list[Supply]) -> None:
        lead = supplies[0]
        first = len(self.caps)
        dealt = [item for item in self.group.items if item.dealt and item.least]
        for limit in lead.limits:
            mine = [item for item in dealt if item.name in limit.pieces]
            weights = {item.id: Fraction(1, item.alike) for item in mine}
            spare = sum((item.spare * weights[item.id] for item in mine), Fraction())
            self.caps.append(StockCap(weights, limit.most * len(supplies) + math.ceil(spare)))
        caps = tuple(range(first, len(self.caps)))
        oriented = tuple(
            self._oriented(index, turned=turned)
            for index in self.group.eligible(lead)
            for turned in ((False, True) if lead.turns else (False,))
        )
        for number, source in enumerate(lead.sources):
            available = sum(supply.sources[number].available for supply in supplies)
            if available and source.width:  # none is left of a sheet whose strip cannot be cut off
                self.every.append(StockClass(tuple(supplies), number, available, oriented, caps))

    def _oriented(self, index: int, *, turned: bool) -> Oriented:
        item = self.group.items[index]
        sides = (item.height, item.width) if turned else (item.width, item.height)
        return Oriented(item.id, *sides, turned)


@dataclass(frozen=True, slots=True)
class StackedPapers:
    """Papers cut exactly alike, sheet for sheet, so that they can be stacked."""

    supplies: tuple[Supply, ...]

    @property
    def lead(self) -> Supply:
        """The paper that stands for all of them."""
        return self.supplies[0]

    @property
    def copies(self) -> int:
        """How many papers there are."""
        return len(self.supplies)

    def available(self, source: int) -> int:
        """How many sheets of that source, by number, every one of the papers has."""
        return min(supply.sources[source].available for supply in self.supplies)


@dataclass(frozen=True)
class PaperClasses:
    """Those of `group`; `stack` is how many sheets of each paper are cut at once."""

    group: Subproblem
    stack: Mapping[str, int]

    @property
    def several(self) -> bool:
        """Whether any paper has another like it."""
        return len(self.merged.supplies) < len(self.group.supplies)

    @cached_property
    def free(self) -> bool:
        """Whether nothing limits what a paper gives, so that a sheet may be of any like its own."""
        return not self.group.told_apart

    @cached_property
    def alike(self) -> list[list[Supply]]:
        """The supplies in sets that can stand for one another, the best stocked first."""
        sets: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            sizes = tuple((s.width, s.height, s.offcut, s.cost, s.margin) for s in supply.sources)
            traits = (supply.turns, self.group.eligible(supply), self.stack[supply.paper])
            asked = (supply.limits, self.group.wanted_of(supply.paper))
            sets[sizes, traits, asked].append(supply)
        return [
            sorted(supplies, key=lambda supply: -supply.sheet.available)
            for supplies in sets.values()
        ]

    @cached_property
    def merged(self) -> Subproblem:
        """The group as if like papers were one: easier, so what it cannot do the group cannot."""
        supplies, papers = [], {}
        for supplies_alike in self.alike:
            lead, count = supplies_alike[0], len(supplies_alike)
            sources = tuple(
                replace(source, available=sum(s.sources[n].available for s in supplies_alike))
                for n, source in enumerate(lead.sources)
            )
            limits = tuple(replace(limit, most=limit.most * count) for limit in lead.limits)
            supplies.append(replace(lead, sources=sources, limits=limits))
            papers.update({supply.paper: lead.paper for supply in supplies_alike})
        items = tuple(
            replace(item, papers=tuple(dict.fromkeys(papers[paper] for paper in item.papers)))
            for item in self.group.items
        )
        card_types = tuple(each.renamed(papers) for each in self.group.card_types)
        return replace(
            self.group,
            items=items,
            supplies=tuple(supplies),
            card_types=card_types,
            counts=merged_counts(self.group.counts, papers),
        )

    def kind(self, paper: str) -> int:
        """Which of the sets of `alike` a paper is in."""
        return next(
            number
            for number, supplies in enumerate(self.alike)
            if any(supply.paper == paper for supply in supplies)
        )

    def evenly_stocked(self, sheets: int) -> Subproblem:
        """The group with just `sheets` sheets to be had, spread over its papers."""
        given: Counter[str] = Counter()
        room = {
            supply.paper: sum(source.available for source in supply.sources if source.cost)
            for supply in self.group.supplies
        }
        for _ in range(min(sheets, sum(room.values()))):
            able = [paper for paper, available in room.items() if given[paper] < available]
            given[min(able, key=lambda paper: given[paper])] += 1
        supplies = (
            replace(supply, sources=tuple(_at_most(s, given[supply.paper]) for s in supply.sources))
            for supply in self.group.supplies
        )
        return replace(self.group, supplies=tuple(supplies))

    def partitions(self, most: int) -> Iterator[list[StackedPapers]]:
        """Ways to cut papers alike, from all of a kind to each on its own; `most` at most."""
        ways = [list(islice(_compositions(supplies), most)) for supplies in self.alike]
        ranked = sorted(product(*ways), key=lambda choice: sum(map(len, choice)))
        for choice in ranked[:most]:
            yield [StackedPapers(tuple(part)) for parts in choice for part in parts]


def _at_most(source: Source, sheets: int) -> Source:
    return replace(source, available=min(source.available, sheets)) if source.cost else source


def _compositions(supplies: list[Supply]) -> Iterator[list[list[Supply]]]:
    """Every way to divide a row of supplies into runs, the fewest runs first."""
    for runs in range(1, len(supplies) + 1):
        yield from _divided(supplies, runs)


def _divided(supplies: list[Supply], runs: int) -> Iterator[list[list[Supply]]]:
    """Every way to divide a row of supplies into so many runs, the longest first run first."""
    if runs == 1:
        yield [supplies]
        return
    for first in range(len(supplies) - runs + 1, 0, -1):
        for others in _divided(supplies[first:], runs - 1):
            yield [supplies[:first], *others]
