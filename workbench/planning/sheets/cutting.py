"""How one group is cut: its layouts, the pieces they give, and whose papers they are."""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from workbench.planning.instance.instance import Subproblem
from workbench.planning.instance.stock_classes import PaperClasses
from workbench.planning.layouts.tree import Layout, leaves, marks_of

Layouts = tuple[Layout, ...]


@dataclass(frozen=True)
class Cutting:
    """The layouts of one group; fewer than `fewest` sheets are impossible."""

    layouts: Layouts
    fewest: int
    because: str | None = None

    @property
    def sheets(self) -> int:
        """What the plan pays for: whole sheets, not offcuts."""
        return sum(layout.source.cost * layout.times for layout in self.layouts)

    @cached_property
    def marks(self) -> frozenset[int]:
        """Where the pieces are cut."""
        return frozenset(mark for layout in self.layouts for mark in marks_of(layout.root))


def pieces_in(layouts: Layouts) -> int:
    """How many pieces they give, all together."""
    return sum(
        layout.times for layout in layouts for leaf in leaves(layout.root) if leaf.item is not None
    )


def settled(group: Subproblem, layouts: Layouts) -> Subproblem:
    """The group with the pieces that were found to fit now asked for, and no others."""
    cut: Counter[int | None] = Counter()
    for layout in layouts:
        for leaf in leaves(layout.root):
            cut[leaf.item] += layout.times
    items = (replace(item, least=cut[item.id], copies=cut[item.id]) for item in group.items)
    return replace(group, items=tuple(item for item in items if item.copies))


def given_out(likes: PaperClasses, layouts: Sequence[Layout]) -> tuple[Layout, ...]:
    """Layouts of merged papers given out to those papers evenly, as far as each is stocked."""
    left = {
        (s.paper, n): source.available
        for s in likes.group.supplies
        for n, source in enumerate(s.sources)
    }
    given: Counter[str] = Counter()
    found: Counter[Layout] = Counter()
    for layout in layouts:
        times = layout.times
        while times:
            able = [
                (given[supply.paper], place, n, supply)
                for place, supply in enumerate(likes.alike[likes.kind(layout.paper)])
                for n, source in enumerate(supply.sources)
                if left[supply.paper, n] and source.like(layout.source)
            ]
            _, _, n, supply = min(able, key=lambda entry: entry[:3])
            share = min(left[supply.paper, n], math.ceil(times / len(able)))
            left[supply.paper, n] -= share
            given[supply.paper] += share
            times -= share
            found[Layout(supply.paper, supply.sources[n], layout.root)] += share
    return tuple(replace(layout, times=times) for layout, times in found.items())
