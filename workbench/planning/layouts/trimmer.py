"""Layouts as the trimmer makes them: the printed strip off first, every mark on the rule."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice, product

from workbench.planning.instance.instance import Margin, Source
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.layouts.tree import Chain, Layout, Leaf, Node
from workbench.planning.layouts.truth import made_true
from workbench.planning.shape import across, along, joined, with_side


def at_the_trimmer(layouts: Iterable[Layout], limits: TrimmerLimits) -> Iterator[Layout]:
    """Each layout for its whole sheet, the printed strip taken off first, all marks on the rule."""
    done: dict[tuple[Node, Margin | None], Node] = {}
    for layout in layouts:
        root, margin = layout.root, layout.source.margin
        if (root, margin) not in done:
            done[root, margin] = _whole(measured(made_true(root, limits), limits), layout.source)
        yield replace(layout, root=done[root, margin])


def makes(limits: TrimmerLimits, root: Node) -> bool:
    """Whether every cut of a layout can be made."""
    if isinstance(root, Leaf):
        return True
    left, line = along(root.shape, root.direction), across(root.shape, root.direction)
    for mark, _ in root.cuts:
        if not limits.cuts(line, mark, left):
            return False
        left -= mark
    return makes(limits, root.rest) and all(makes(limits, first) for _, first in root.cuts)


def measured(root: Node, limits: TrimmerLimits) -> Node:
    """A layout that the trimmer makes, what lies beyond the rule measured on the other part."""
    if isinstance(root, Leaf):
        return root
    cuts = [(mark, measured(first, limits)) for mark, first in root.cuts]
    rest = measured(root.rest, limits)
    if isinstance(rest, Chain) and rest.direction == root.direction:
        cuts, rest = [*cuts, *rest.cuts], rest.rest
    beyond = next((cut for cut in cuts if cut[0] > limits.rule), None)
    if beyond:
        cuts.remove(beyond)
        cuts.append((along(rest.shape, root.direction), rest))
        rest = beyond[1]
    cuts.sort(key=lambda cut: -cut[0])
    return Chain(root.width, root.height, root.direction, tuple(cuts), rest)


def held_at_last(root: Node, hold: int, most: int) -> list[Node]:
    """Layouts alike but for what they cut last, so that at each stroke one part is `hold` wide.

    Where only the last part of a chain would be too narrow, some wide part is kept to hold it by:
    one layout for each part of a different width that could be kept. Where no part of a chain is
    wide enough, no order helps.
    """
    if isinstance(root, Leaf):
        return [root]
    whole = root.width, root.height, root.direction
    kept = _kept_to_hold(root, hold)
    nodes = [*(first for _, first in root.cuts), root.rest]
    found: list[Node] = []
    for *firsts, rest in islice(product(*(held_at_last(node, hold, most) for node in nodes)), most):
        cuts = [(mark, first) for (mark, _), first in zip(root.cuts, firsts, strict=True)]
        if not kept:
            found.append(Chain(*whole, tuple(cuts), rest))
        for last in kept:
            others = tuple(cuts[:last] + cuts[last + 1 :])
            found.append(Chain(*whole, others, _ending(root, cuts[last], rest)))
    return found[:most]


def _kept_to_hold(chain: Chain, hold: int) -> list[int]:
    """The cuts, one of each sort, that could come last; none where any order will do."""
    marks = [mark for mark, _ in chain.cuts]
    rest = along(chain.rest.shape, chain.direction)
    if rest >= hold or min(marks) >= hold:
        return []
    return [chain.cuts.index(cut) for cut in dict.fromkeys(chain.cuts) if cut[0] >= hold]


def _ending(chain: Chain, last: tuple[int, Node], rest: Node) -> Chain:
    side = last[0] + along(rest.shape, chain.direction)
    shape = with_side(chain.shape, chain.direction, side)
    return Chain(*shape, chain.direction, (last,), rest)


def _whole(root: Node, source: Source) -> Node:
    """The whole sheet, of which `root` is what a printed strip leaves."""
    margin, mark = source.margin, source.margin_mark
    if margin is None or mark is None:
        return root
    strip = with_side(root.shape, margin.direction, margin.width)
    whole = joined(root.shape, strip, margin.direction)
    waste = Leaf(*strip, strip=True)
    first, rest = (waste, root) if margin.first else (root, waste)
    return Chain(*whole, margin.direction, ((mark, first),), rest)
