"""Every way to cut a rectangle edge to edge, as a graph of states joined by cuts.

A state is a rectangle being cut in one direction, part after part, the widest first. Cutting a
chain in falling order loses nothing, since the cuts of one chain may be made in any order; the
states it saves are most of them. Each level below turns the direction: rows, pieces, and so on.
An arc is one cut: it uses up its state and makes two, or makes a piece. Source of cuts as such
activities: Silva, Alvelos and Valerio de Carvalho, EJOR 205 (2010) 699-708.
"""

from collections.abc import Collection
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import product
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.limits import Reach
from workbench.planning.shape import DIRECTIONS, WIDTH, Shape, across, along, split


class CutState(NamedTuple):
    """A rectangle to be cut in `direction`, by no mark above `last` (0: not yet cut)."""

    width: int
    height: int
    direction: Direction
    level: int
    last: int

    @property
    def measured(self) -> int:
        """The side that its cuts measure, in units of the instance."""
        return self.width if self.direction is WIDTH else self.height

    @property
    def line(self) -> int:
        """How long every cut of it is."""
        return self.height if self.direction is WIDTH else self.width


class Arc(NamedTuple):
    """One use of a state: cut at `mark` into `first` and `rest`; or, mark 0, hand it on.

    A target is a state, a wanted shape that the rectangle equals, or None for what is left over.
    """

    state: CutState
    mark: int
    first: CutState | Shape | None
    rest: CutState | None


@dataclass
class CutGraph:
    """The states reachable from `starts` and their arcs, in an order that never varies."""

    starts: list[CutState] = field(default_factory=list)
    arcs: dict[CutState, list[Arc]] = field(default_factory=dict)


class TooLargeError(Exception):
    """Raised when a network grows past what an integer program can prove in a sitting."""


@lru_cache(maxsize=16)
def cut_graph_of(
    whole: Shape,
    shapes: frozenset[Shape],
    reach: Reach,
    trimmer: TrimmerLimits,
    *,
    turning: bool,
) -> CutGraph:
    """All cuttings of a rectangle into `shapes`, each mark a side of one. Raises TooLargeError.

    `turning`: every shape serves as well turned, so that a square need be begun one way only. One
    is often asked for several times on the way to a plan.
    """
    sides = {side for shape in shapes for side in shape}
    builder = _Builder(shapes, sorted(sides, reverse=True), reach, trimmer)
    square = turning and whole[0] == whole[1]
    return builder.built(whole, (WIDTH,) if square else DIRECTIONS)


@dataclass
class _Builder:
    shapes: frozenset[Shape]
    marks: list[int]
    reach: Reach
    trimmer: TrimmerLimits
    net: CutGraph = field(default_factory=CutGraph)
    _fits: dict[Shape, bool] = field(default_factory=dict)

    @cached_property
    def _narrowest(self) -> dict[tuple[Direction, int], int]:
        """For each side of a wanted piece, by direction, the least that the other side may be."""
        found: dict[tuple[Direction, int], int] = {}
        for shape, way in product(self.shapes, DIRECTIONS):
            side, other = (way, along(shape, way)), across(shape, way)
            found[side] = min(other, found.get(side, other))
        return found

    def built(self, whole: Shape, ways: Collection[Direction]) -> CutGraph:
        if self._useful(*whole):
            self.net.starts = [CutState(*whole, way, 1, 0) for way in ways]
        todo = list(self.net.starts)
        count = 0
        while todo:
            state = todo.pop()
            if state in self.net.arcs:
                continue
            arcs = self._arcs(state)
            self.net.arcs[state] = arcs
            count += len(arcs)
            if count > self.reach.most:
                raise TooLargeError
            for arc in arcs:
                todo += [end for end in (arc.first, arc.rest) if isinstance(end, CutState)]
        return self.net

    def _useful(self, width: int, height: int) -> bool:
        shape = (width, height)
        if shape not in self._fits:
            self._fits[shape] = any(w <= width and h <= height for w, h in self.shapes)
        return self._fits[shape]

    def _arcs(self, state: CutState) -> list[Arc]:
        arcs = []
        shape = (state.width, state.height)
        measured, line = state.measured, state.line
        if shape in self.shapes:
            arcs.append(Arc(state, 0, shape, None))
        for mark in self.marks:
            if mark >= measured or (state.last and mark > state.last):
                continue
            if not self.trimmer.cuts(line, mark, measured):
                continue
            arc = self._cut(state, mark)
            if arc:
                arcs.append(arc)
        begun = state.last or (self.reach.again and state.level > 1)
        if begun and state.level < self.reach.levels and self._goes_on(state):
            turned = state._replace(direction=state.direction.other, level=state.level + 1, last=0)
            arcs.append(Arc(state, 0, turned, None))
        return arcs

    def _cut(self, state: CutState, mark: int) -> Arc | None:
        direction, level = state.direction, state.level
        first, rest = split(state[:2], direction, mark)
        if not self._useful(*first) or (self.reach.strict and not self._lends(state, mark)):
            return None
        end: CutState | Shape
        if level < self.reach.levels:
            end = CutState(*first, direction.other, level + 1, 0)
        elif first in self.shapes:
            end = first
        else:
            return None
        more = CutState(*rest, direction, level, mark) if self._useful(*rest) else None
        return Arc(state, mark, end, more)

    def _lends(self, state: CutState, mark: int) -> bool:
        """Whether some wanted piece in the first part measures the mark."""
        return self._narrowest.get((state.direction, mark), state.line + 1) <= state.line

    def _goes_on(self, state: CutState) -> bool:
        """Whether what is left of a chain is worth turning and cutting on as it is."""
        return self.reach.leftovers or (state.direction, state.measured) in self._narrowest
