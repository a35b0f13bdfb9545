"""What the fewest sheets take from the paper on hand and leave of it, without a plan."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from workbench.craft.paper import Size
from workbench.planning.instance.instance import Instance
from workbench.planning.layouts.positions import worth_keeping
from workbench.planning.layouts.tree import Layout, leaves
from workbench.planning.result import Shortage


@dataclass(frozen=True, slots=True)
class Survey:
    """What a project takes in the fewest sheets, without the plan.

    `makeable` cards can be made from the paper on hand; `shortages` are to be bought for all of
    them. `opened` counts whole sheets by paper, `offcuts` those taken from stock and `left` those
    worth keeping afterwards, by paper and size.
    """

    makeable: int
    shortages: tuple[Shortage, ...]
    opened: Mapping[str, int]
    offcuts: Mapping[tuple[str, Size], int]
    left: Mapping[tuple[str, Size], int]


def surveyed(
    instance: Instance,
    layouts: Sequence[Layout],
    makeable: int,
    shortages: tuple[Shortage, ...],
) -> Survey:
    """What `layouts` take and leave."""
    opened: Counter[str] = Counter()
    offcuts: Counter[tuple[str, Size]] = Counter()
    left: Counter[tuple[str, Size]] = Counter()
    for layout in layouts:
        if layout.source.offcut:
            source = layout.source
            size = Size(instance.length(source.width), instance.length(source.height))
            offcuts[layout.paper, size] += layout.times
        else:
            opened[layout.paper] += layout.times
        for leaf in leaves(layout.root):
            size = Size(instance.length(leaf.width), instance.length(leaf.height))
            if leaf.item is None and not leaf.strip and worth_keeping(size.width, size.height):
                left[layout.paper, size] += layout.times
    return Survey(makeable, shortages, opened, offcuts, left)
