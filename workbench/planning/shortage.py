"""When the paper on hand is short: the least to buy, and the most cards it can make now."""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from workbench.planning.instance.instance import Instance, Subproblem, Supply
from workbench.planning.layouts.tree import Layout


def to_be_bought(group: Subproblem, most: Mapping[str, int] | None = None) -> Subproblem:
    """The group with its own paper free and more of every paper to be had at a price.

    `most` sheets of a paper, where it is named there. The group's fewest sheets are the fewest to
    buy.
    """
    most = most or {}
    supplies = (_with_shop(group, supply, most.get(supply.paper)) for supply in group.supplies)
    return replace(group, supplies=tuple(supplies))


def _with_shop(group: Subproblem, supply: Supply, most: int | None) -> Supply:
    enough = sum(group.items[index].copies for index in group.eligible(supply))
    own = (replace(source, cost=0) for source in supply.sources)
    there = enough if most is None else min(most, enough)
    return replace(supply, sources=(*own, replace(supply.sheet, available=there)))


def even_shares(group: Subproblem, bought: Mapping[str, int]) -> dict[str, int]:
    """The most sheets bought of each paper, were those that serve alike there in equal numbers.

    Empty where they are, as far as what is on hand allows.
    """
    alike: dict[object, list[Supply]] = defaultdict(list)
    for supply in group.supplies:
        sheet = replace(supply.sheet, available=0)
        alike[sheet, group.eligible(supply), supply.turns].append(supply)
    shares: dict[str, int] = {}
    for supplies in alike.values():
        there = {s.paper: s.sheet.available + bought.get(s.paper, 0) for s in supplies}
        even = math.ceil(sum(there.values()) / len(there))
        shares |= {s.paper: max(0, even - s.sheet.available) for s in supplies}
    return shares if any(bought.get(paper, 0) > shares[paper] for paper in shares) else {}


def bought(layouts: Iterable[Layout]) -> Counter[str]:
    """How many sheets that cost something there are of each paper: of such a group, the bought."""
    counts: Counter[str] = Counter()
    for layout in layouts:
        if layout.source.cost:
            counts[layout.paper] += layout.times
    return counts


def out_of_stock(group: Subproblem, layouts: Iterable[Layout]) -> tuple[Layout, ...]:
    """A cutting of such a group from the sheets of `group`, where what was bought lies by now."""
    sources = {
        (supply.paper, source.offcut, source.width, source.height): source
        for supply in group.supplies
        for source in reversed(supply.sources)
    }
    return tuple(
        replace(
            layout,
            source=sources[
                layout.paper, layout.source.offcut, layout.source.width, layout.source.height
            ],
        )
        for layout in layouts
    )


def stocked(instance: Instance, extra: Counter[str]) -> Instance:
    """The instance as if `extra` sheets of each paper were on hand."""

    def supplied(supply: Supply) -> Supply:
        sheet = supply.sheet
        more = replace(sheet, available=sheet.available + extra[supply.paper])
        return replace(supply, sources=(more, *supply.sources[1:]))

    groups = tuple(
        replace(group, supplies=tuple(supplied(supply) for supply in group.supplies))
        for group in instance.groups
    )
    return replace(instance, groups=groups)


def most_cards(wanted: int, possible: Callable[[int], bool]) -> int:
    """The largest batch below `wanted` for which `possible` says yes (0 if none)."""
    low, high = 0, wanted
    while high - low > 1:
        middle = (low + high) // 2
        if possible(middle):
            low = middle
        else:
            high = middle
    return low
