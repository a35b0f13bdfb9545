"""When the paper on hand is short: the least to buy, and the most cards it can make now."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from workbench.planning.instance.instance import Instance, Subproblem, Supply
from workbench.planning.layouts.tree import Layout


def to_be_bought(group: Subproblem) -> Subproblem:
    """The group with its own paper free and more of every paper to be had at a price.

    Its fewest sheets are the fewest to buy.
    """
    return replace(group, supplies=tuple(_with_shop(group, supply) for supply in group.supplies))


def _with_shop(group: Subproblem, supply: Supply) -> Supply:
    enough = sum(group.items[index].copies for index in group.eligible(supply))
    own = (replace(source, cost=0) for source in supply.sources)
    return replace(supply, sources=(*own, replace(supply.sheet, available=enough)))


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
