"""Layout trees by number, so that like parts are found at once and cut apart only once."""

from functools import cache

from workbench.planning.layouts.tree import Chain, Node
from workbench.planning.shape import split

Open = frozenset[int]


class NodeTable:
    """Every rectangle met while layouts are cut apart, numbered; equal ones have one number."""

    def __init__(self) -> None:
        self.nodes: list[Node] = []
        self._numbers: dict[Node, int] = {}
        self._marks: list[set[int]] = []
        self.halves = cache(self._halves)
        self.after = cache(self._after)
        self.opened = cache(self._opened)

    def number(self, node: Node) -> int:
        """The number of a node; equal nodes share one."""
        found = self._numbers.get(node)
        if found is None:
            found = self._numbers[node] = len(self.nodes)
            self.nodes.append(node)
            self._marks.append(
                {mark for mark, _ in node.cuts} if isinstance(node, Chain) else set()
            )
        return found

    def chain(self, number: int) -> Chain | None:
        """The chain of that number; None where nothing is left to cut."""
        node = self.nodes[number]
        return node if isinstance(node, Chain) else None

    def has(self, number: int, mark: int) -> bool:
        """Whether the rectangle itself can be cut at `mark` now."""
        return mark in self._marks[number]

    def _halves(self, number: int, mark: int) -> tuple[int, int]:
        """What one cut at `mark` gives: the part that measures it, and the rest."""
        chain = self.chain(number)
        assert chain is not None
        which = next(place for place, (m, _) in enumerate(chain.cuts) if m == mark)
        left = chain.cuts[:which] + chain.cuts[which + 1 :]
        rest: Node = chain.rest
        if left:
            _, shape = split(chain.shape, chain.direction, mark)
            rest = Chain(*shape, chain.direction, left, chain.rest)
        return self.number(chain.cuts[which][1]), self.number(rest)

    def _after(self, number: int, mark: int) -> Open:
        """The chains there are once every cut at `mark` is made, those it opens among them."""
        if self.has(number, mark):
            first, rest = self.halves(number, mark)
            return self.after(first, mark) | self.after(rest, mark)
        return frozenset((number,)) if self.chain(number) else frozenset()

    def _opened(self, number: int, mark: int) -> Open:
        """The parts to be cut at `mark` that cutting it at `mark` brings to light."""
        found: Open = frozenset()
        for half in self.halves(number, mark):
            if self.has(half, mark):
                found |= {half} | self.opened(half, mark)
        return found
