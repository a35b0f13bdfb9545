"""Layouts as the trimmer makes them: the printed strip off first, every mark on the rule."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from workbench.planning.blade import Blade
from workbench.planning.demand import Demand, Margin
from workbench.planning.layout import Chain, Layout, Leaf, Node


def at_the_trimmer(layouts: Iterable[Layout], demand: Demand) -> Iterator[Layout]:
    """Each layout for its whole sheet, the printed strip taken off first, all marks on the rule."""
    done: dict[tuple[Node, Margin | None], Node] = {}
    for layout in layouts:
        margin = None if layout.source.offcut else demand.margins.get(layout.paper)
        if (layout.root, margin) not in done:
            root = measured(layout.root, demand.blade)
            done[layout.root, margin] = _around(root, margin) if margin else root
        yield replace(layout, root=done[layout.root, margin])


def makes(blade: Blade, root: Node) -> bool:
    """Whether every cut of a layout can be made."""
    if isinstance(root, Leaf):
        return True
    left, line = _along(root)
    for mark in sorted((mark for mark, _ in root.cuts), reverse=True):
        if not blade.cuts(line, mark, left):
            return False
        left -= mark
    return makes(blade, root.rest) and all(makes(blade, first) for _, first in root.cuts)


def measured(root: Node, blade: Blade) -> Node:
    """A layout that the blade makes, what lies beyond the rule measured on the other part."""
    if isinstance(root, Leaf):
        return root
    cuts = [(mark, measured(first, blade)) for mark, first in root.cuts]
    rest = measured(root.rest, blade)
    beyond = next((cut for cut in cuts if cut[0] > blade.rule), None)
    if beyond:
        cuts.remove(beyond)
        cuts.append((rest.width if root.direction == 0 else rest.height, rest))
        rest = beyond[1]
    return Chain(root.width, root.height, root.direction, tuple(cuts), rest)


def _around(root: Node, margin: Margin) -> Node:
    """The whole sheet of which `root` is what the strip leaves."""
    if margin.direction == 0:
        whole, strip = (root.width + margin.width, root.height), (margin.width, root.height)
    else:
        whole, strip = (root.width, root.height + margin.width), (root.width, margin.width)
    waste = Leaf(*strip, strip=True)
    if margin.first:
        return Chain(*whole, margin.direction, ((margin.width, waste),), root)
    kept = root.width if margin.direction == 0 else root.height
    return Chain(*whole, margin.direction, ((kept, root),), waste)


def _along(chain: Chain) -> tuple[int, int]:
    """What is measured, and how long the cut is."""
    across = chain.direction == 0
    return (chain.width, chain.height) if across else (chain.height, chain.width)
