"""What a sheet is cut into: every final part named and placed, alike on all sheets cut alike."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from workbench.measure.length import Length
from workbench.planning.layouts.node_table import NodeTable
from workbench.planning.layouts.tree import Leaf
from workbench.planning.result import Part, Role
from workbench.planning.shape import WIDTH, Shape

KEEP_SIDE = Length.of(1, "in")
KEEP_AREA = 6


class _Final(NamedTuple):
    """A part that is not cut on, at the end of `path`."""

    path: tuple[int, ...]
    leaf: Leaf
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class PartPositions:
    """Where the parts of `trees` lie once every cut is made, the marks set in turn.

    `names` has each item's by its id.
    """

    trees: NodeTable
    marks: Sequence[int]
    length: Callable[[int], Length]
    names: Mapping[int, str]

    def parts(self, tree: int) -> tuple[Part, ...]:
        """The parts of a sheet cut so, in the order of their paths."""
        finals = self._finals(tree, (), 0, 0, 0)
        return tuple(sorted(map(self._part, finals), key=lambda part: part.path))

    def _finals(
        self, tree: int, path: tuple[int, ...], x: int, y: int, done: int
    ) -> Iterator[_Final]:
        """The parts of a rectangle that lies at `x`, `y` when so many marks are done with."""
        node = self.trees.nodes[tree]
        if isinstance(node, Leaf):
            yield _Final(path, node, x, y)
            return
        while not self.trees.has(tree, self.marks[done]):
            done += 1
        mark = self.marks[done]
        first, rest = self.trees.halves(tree, mark)
        beside = (x + mark, y) if node.direction is WIDTH else (x, y + mark)
        yield from self._finals(first, (*path, 1), x, y, done)
        yield from self._finals(rest, (*path, 2), *beside, done)

    def _part(self, final: _Final) -> Part:
        leaf, x, y = final.leaf, self.length(final.x), self.length(final.y)
        width, height = self.length(leaf.width), self.length(leaf.height)
        role = _role(leaf, width, height)
        piece = None if leaf.item is None else self.names[leaf.item]
        return Part(final.path, role, piece, x, y, width, height, leaf.turned)


def worth_keeping(width: Length, height: Length) -> bool:
    """Whether a leftover goes in the drawer: 1 in wide and 6 sq in (common practice, no source)."""
    return min(width, height) >= KEEP_SIDE and width.inches * height.inches >= KEEP_AREA


def kept_shapes(scale: int) -> Callable[[Shape], bool]:
    """`worth_keeping` for shapes, where one millimetre is `scale` units."""
    inch = Length.of(1, "in").mm * scale
    side, area = ceil(KEEP_SIDE.mm * scale), ceil(KEEP_AREA * inch**2)
    return lambda shape: min(shape) >= side and shape[0] * shape[1] >= area


def _role(leaf: Leaf, width: Length, height: Length) -> Role:
    if leaf.item is not None:
        return "piece"
    return "offcut" if worth_keeping(width, height) and not leaf.strip else "scrap"
