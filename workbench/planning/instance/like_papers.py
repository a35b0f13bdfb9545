"""Papers of a group that can stand for one another: counted as one, or cut alike."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice, product

from workbench.planning.instance.instance import Group, Source, Supply
from workbench.planning.layouts.tree import Layout
from workbench.planning.sheets.arc_flow import Block

MOST_PARTITIONS = 6


@dataclass(frozen=True)
class LikePapers:
    """Those of `group`; `stack` is how many sheets of each paper are cut at once."""

    group: Group
    stack: Mapping[str, int]

    @property
    def several(self) -> bool:
        """Whether any paper has another like it."""
        return len(self.merged.supplies) < len(self.group.supplies)

    @cached_property
    def free(self) -> bool:
        """Whether nothing limits what a paper gives, so that a sheet may be of any like its own."""
        limited = any(self.group.limited(supply) for supply in self.group.supplies)
        return not limited and not self.group.mixtures

    @cached_property
    def alike(self) -> list[list[Supply]]:
        """The supplies in sets that can stand for one another, the best stocked first."""
        sets: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            sizes = tuple((s.width, s.height, s.offcut, s.cost, s.margin) for s in supply.sources)
            limit = supply.dealt_limit if self.group.limited(supply) else None
            traits = (supply.turns, self.group.eligible(supply), limit, self.stack[supply.paper])
            sets[sizes, traits].append(supply)
        return [
            sorted(supplies, key=lambda supply: -supply.sheet.available)
            for supplies in sets.values()
        ]

    @cached_property
    def merged(self) -> Group:
        """The group as if like papers were one: easier, so what it cannot do the group cannot."""
        supplies, papers = [], {}
        for supplies_alike in self.alike:
            lead, count = supplies_alike[0], len(supplies_alike)
            sources = tuple(
                replace(source, available=sum(s.sources[n].available for s in supplies_alike))
                for n, source in enumerate(lead.sources)
            )
            limit = None if lead.dealt_limit is None else lead.dealt_limit * count
            supplies.append(replace(lead, sources=sources, dealt_limit=limit))
            papers.update({supply.paper: lead.paper for supply in supplies_alike})
        items = tuple(
            replace(item, papers=tuple(dict.fromkeys(papers[paper] for paper in item.papers)))
            for item in self.group.items
        )
        mixtures = tuple(mixture.renamed(papers) for mixture in self.group.mixtures)
        return replace(self.group, items=items, supplies=tuple(supplies), mixtures=mixtures)

    def kind(self, paper: str) -> int:
        """Which of the sets of `alike` a paper is in."""
        return next(
            number
            for number, supplies in enumerate(self.alike)
            if any(supply.paper == paper for supply in supplies)
        )

    def spread(self, layouts: Sequence[Layout]) -> tuple[Layout, ...]:
        """Layouts of merged papers given out to those papers evenly, as far as each is stocked."""
        left = {
            (s.paper, n): source.available
            for s in self.group.supplies
            for n, source in enumerate(s.sources)
        }
        given: Counter[str] = Counter()
        found: Counter[Layout] = Counter()
        for layout in layouts:
            times = layout.times
            while times:
                able = [
                    (given[supply.paper], place, n, supply)
                    for place, supply in enumerate(self.alike[self.kind(layout.paper)])
                    for n, source in enumerate(supply.sources)
                    if left[supply.paper, n] and _same(source, layout.source)
                ]
                _, _, n, supply = min(able, key=lambda entry: entry[:3])
                share = min(left[supply.paper, n], math.ceil(times / len(able)))
                left[supply.paper, n] -= share
                given[supply.paper] += share
                times -= share
                found[Layout(supply.paper, supply.sources[n], layout.root)] += share
        return tuple(replace(layout, times=times) for layout, times in found.items())

    def evenly_stocked(self, sheets: int) -> Group:
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

    def partitions(self) -> Iterator[list[Block]]:
        """Ways to cut papers alike, from all of a kind to each on its own."""
        ways = [list(islice(_compositions(supplies), MOST_PARTITIONS)) for supplies in self.alike]
        ranked = sorted(product(*ways), key=lambda choice: sum(map(len, choice)))
        for choice in ranked[:MOST_PARTITIONS]:
            yield [Block(tuple(part)) for parts in choice for part in parts]


def _same(one: Source, other: Source) -> bool:
    return replace(one, available=0) == replace(other, available=0)


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
