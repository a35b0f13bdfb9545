"""The order of the marks: the fewest settings of the guide, found by A* search.

Once the guide stands at a mark, doing every cut there is at it never costs a setting later. So
only the sequence of marks is searched, and a state is the set of chains still open. At least
one setting is due for every different mark left: that estimate never overstates, so the first
sequence found is the shortest.
"""

import heapq
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from workbench.planning.layout import Chain, Node, marks_of

Open = frozenset[Chain]

MOST_STATES = 20_000


@dataclass(frozen=True, slots=True)
class Order:
    """The marks in turn; `proven` when no other order needs fewer settings."""

    marks: tuple[int, ...]
    proven: bool


def fewest_settings(roots: Collection[Node]) -> Order:
    """The shortest sequence of marks that cuts all of `roots` apart."""
    start = _opened(roots)
    seen = {start: 0}
    queue: list[tuple[int, int, int, Open, tuple[int, ...]]] = [(_due(start), 0, 0, start, ())]
    count = 0
    while queue:
        _, _, _, state, marks = heapq.heappop(queue)
        if not state:
            return Order(marks, proven=True)
        count += 1
        if count > MOST_STATES:
            break
        for mark in sorted(_available(state), reverse=True):
            after = done(state, mark)
            cost = len(marks) + 1
            if seen.get(after, cost + 1) > cost:
                seen[after] = cost
                # Ties go to the sequence that is furthest on, then to wide marks first.
                entry = (cost + _due(after), -cost, len(seen), after, (*marks, mark))
                heapq.heappush(queue, entry)
    return Order(_greedy(start), proven=False)


def done(state: Open, mark: int) -> Open:
    """What is open once every cut at `mark` is made, those it opens among them."""
    found: set[Chain] = set()
    for chain in state:
        found |= _cut(chain, mark)
    return frozenset(found)


@cache
def _cut(chain: Chain, mark: int) -> Open:
    if all(m != mark for m, _ in chain.cuts):
        return frozenset((chain,))
    left = tuple((m, first) for m, first in chain.cuts if m != mark)
    opened = [first for m, first in chain.cuts if m == mark]
    taken = mark * len(opened)
    width = chain.width - (taken if chain.direction == 0 else 0)
    height = chain.height - (taken if chain.direction == 1 else 0)
    rest: Node = Chain(width, height, chain.direction, left, chain.rest) if left else chain.rest
    return frozenset(
        part for node in (*opened, rest) if isinstance(node, Chain) for part in _cut(node, mark)
    )


def _opened(roots: Collection[Node]) -> Open:
    return frozenset(root for root in roots if isinstance(root, Chain))


def _available(state: Open) -> set[int]:
    return {mark for chain in state for mark, _ in chain.cuts}


def _due(state: Open) -> int:
    return len({mark for chain in state for mark in _marks(chain)})


@cache
def _marks(chain: Chain) -> frozenset[int]:
    return frozenset(marks_of(chain))


def _greedy(state: Open) -> tuple[int, ...]:
    marks = []
    while state:
        mark = min(_available(state), key=lambda m: (_due(done(state, m)), -m))
        marks.append(mark)
        state = done(state, mark)
    return tuple(marks)
