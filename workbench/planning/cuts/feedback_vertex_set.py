"""The smallest feedback vertex set of a small graph: the fewest nodes that break every cycle.

Here nodes are marks of the rule, and one that is taken out is set a second time.
"""

from collections.abc import Iterator, Sequence
from functools import cache


def fewest_broken(waiting: Sequence[int], most: int) -> int:
    """The fewest nodes that break every circle of a graph when taken out; counted up to `most`.

    `waiting` has a bit for each node to which an arrow leads, node by node.
    """

    @cache
    def broken(nodes: int, left: int) -> int:
        circle = _shortest_cycle(waiting, _on_cycles(waiting, nodes)) if left else ()
        if not circle:
            return 0
        return 1 + min(broken(nodes & ~(1 << node), left - 1) for node in circle)

    return broken((1 << len(waiting)) - 1, most)


def apart(waiting: Sequence[int], circles: int) -> bool:
    """Whether so many circles with no node in common are soon found: each needs one taken out."""
    nodes = _on_cycles(waiting, (1 << len(waiting)) - 1)
    for _ in range(circles - 1):
        for node in _shortest_cycle(waiting, nodes):
            nodes &= ~(1 << node)
        nodes = _on_cycles(waiting, nodes)
    return bool(nodes)


def _shortest_cycle(waiting: Sequence[int], nodes: int) -> Sequence[int]:
    """A shortest circle among nodes that may be on one, () for none."""
    if short := _pair(waiting, nodes):
        return short
    best: Sequence[int] = ()
    for start in _ones(nodes):
        path = _way_back(waiting, nodes, start)
        if path and (not best or len(path) < len(best)):
            best = path
    return best


def _pair(waiting: Sequence[int], nodes: int) -> Sequence[int]:
    """The first node with an arrow to itself, or two with arrows to each other; () for none."""
    for start in _ones(nodes):
        on = waiting[start] & nodes
        if on >> start & 1:
            return (start,)
        for node in _ones(on):
            if waiting[node] >> start & 1:
                return (start, node)
    return ()


def _on_cycles(waiting: Sequence[int], nodes: int) -> int:
    """The nodes without those that lead nowhere, or that nothing leads to, and so on."""
    while True:
        before, left, reached = nodes, nodes, 0
        while left:
            bit = left & -left
            left ^= bit
            on = waiting[bit.bit_length() - 1] & nodes
            reached |= on
            if not on:
                nodes ^= bit
        nodes &= reached
        if nodes == before:
            return nodes


def _way_back(waiting: Sequence[int], nodes: int, start: int) -> Sequence[int]:
    """The shortest way from `start` to itself, breadth first."""
    paths: list[tuple[int, ...]] = [(start,)]
    seen = 0
    while paths:
        further: list[tuple[int, ...]] = []
        for path in paths:
            on = waiting[path[-1]] & nodes & ~seen
            if on >> start & 1:
                return path
            seen |= on
            further += [(*path, node) for node in _ones(on)]
        paths = further
    return ()


def _ones(bits: int) -> Iterator[int]:
    while bits:
        lowest = bits & -bits
        yield lowest.bit_length() - 1
        bits ^= lowest
