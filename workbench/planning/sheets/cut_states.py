"""Rectangles being cut, and the cuts that lead from one to others: what a cut graph is made of.

A state is a rectangle being cut in one direction, part after part, the widest first. Cutting a
chain in falling order loses nothing, since the cuts of one chain may be made in any order; the
states it saves are most of them. Each level below turns the direction: rows, pieces, trims. An arc
is one cut: it uses up its state and makes two, or makes a piece. Source of cuts as such activities:
Silva, Alvelos and Valerio de Carvalho, EJOR 205 (2010) 699-708.
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.limits import Reach
from workbench.planning.shape import DIRECTIONS, Shape, across, along, split

Setting = tuple[int, Direction]
"""A mark, and the direction in which is cut at it."""


class State(NamedTuple):
    """A rectangle to be cut in `direction`, by no mark above `last` (0: not yet cut).

    `level` counts the turns of direction from 1, or is 0 where they are not counted. Where cuts
    must be true, `owes`: a part as long as the rectangle's other side is still due; `closes`:
    nothing may be left over in `direction`; `after` is the setting at which it was cut off (None: a
    whole sheet, or what remains of a row; where all true cuts are looked at, the row's last).
    """

    width: int
    height: int
    direction: Direction
    level: int
    last: int
    owes: bool = False
    closes: bool = False
    after: Setting | None = None

    @property
    def shape(self) -> Shape:
        """Its width and height."""
        return self.width, self.height

    @property
    def optional(self) -> bool:
        """Whether it may be left as it is: what remains of a row that owes nothing."""
        return bool(self.last) and not self.owes and not self.closes


class Arc(NamedTuple):
    """One use of a state: cut at `mark` into `first` and `rest`; or, mark 0, hand it on.

    An end is a state, a wanted shape that the rectangle equals, or None for what is left over.
    """

    state: State
    mark: int
    first: State | Shape
    rest: State | None

    @property
    def left_over(self) -> Shape | None:
        """The rectangle that nothing more is cut from, where the arc leaves one."""
        if not self.mark or self.rest is not None:
            return None
        return split(self.state.shape, self.state.direction, self.mark)[1]


@dataclass
class CutGraph:
    """The states reachable from `starts` and their arcs, in an order that never varies."""

    starts: list[State] = field(default_factory=list)
    arcs: dict[State, list[Arc]] = field(default_factory=dict)

    @property
    def size(self) -> int:
        """How many arcs there are."""
        return sum(map(len, self.arcs.values()))

    def __or__(self, other: "CutGraph") -> "CutGraph":
        """All that either has."""
        joined = CutGraph(list(dict.fromkeys((*self.starts, *other.starts))))
        for state in dict.fromkeys((*self.arcs, *other.arcs)):
            mine, theirs = self.arcs.get(state, ()), other.arcs.get(state, ())
            joined.arcs[state] = list(dict.fromkeys((*mine, *theirs)))
        return joined


class TooLargeError(Exception):
    """Raised when a graph grows past what an integer program can prove in a sitting."""


def useful(shape: Shape, shapes: Iterable[Shape]) -> bool:
    """Whether any of `shapes` fits into a rectangle of `shape`."""
    return any(w <= shape[0] and h <= shape[1] for w, h in shapes)


class _Line(NamedTuple):
    """Cuts along lines of one length: their marks, the longest first, and the least of any use."""

    marks: Sequence[int]
    least: int


@dataclass
class GraphBuilder(ABC):
    """Explores how `whole` is cut into `shapes`, within `reach` and what the trimmer cuts.

    `turning`: every shape serves as well turned, so that a square need be begun one way only.
    """

    whole: Shape
    shapes: frozenset[Shape]
    reach: Reach
    trimmer: TrimmerLimits
    turning: bool
    graph: CutGraph = field(default_factory=CutGraph)
    _lines: dict[tuple[Direction, int], "_Line"] = field(default_factory=dict)

    @abstractmethod
    def arcs(self, state: State) -> Iterable[Arc]:
        """The uses of one state."""

    def explored(self, level: int = 1) -> CutGraph:
        """The graph of all that is reached, beginning at that level.

        Raises:
            TooLargeError: there are more arcs than `reach` allows.
        """
        square = self.whole[0] == self.whole[1]
        if useful(self.whole, self.shapes):
            ways = DIRECTIONS[:1] if self.turning and square else DIRECTIONS
            self.graph.starts = [State(*self.whole, way, level, 0) for way in ways]
        todo: list[State | Shape | None] = list(self.graph.starts)
        known = self.graph.arcs
        count = 0
        while todo:
            state = todo.pop()
            if state in known or not isinstance(state, State):
                continue
            arcs = known[state] = list(self.arcs(state))
            count += len(arcs)
            if count > self.reach.most:
                raise TooLargeError
            for _, _, first, rest in arcs:
                todo += (first, rest)
        return self.graph

    @cached_property
    def marks(self) -> set[int]:
        """Where the guide may be set: the sides of the shapes."""
        return {side for shape in self.shapes for side in shape}

    @property
    @abstractmethod
    def strict(self) -> bool:
        """Whether what a cut measures must be the side of a wanted shape that it can hold."""

    def cuts(self, state: State) -> Iterator[tuple[int, bool]]:
        """Where a state can be cut to some use, longest mark first, and if the rest is of any."""
        shape, way = state.shape, state.direction
        whole, line = along(shape, way), across(shape, way)
        most = min(whole - 1, state.last or whole)
        marks, least = self._line(way, line)
        for mark in marks:
            if mark <= most and self.trimmer.cuts(line, mark, whole):
                yield mark, whole - mark >= least

    def _line(self, direction: Direction, length: int) -> "_Line":
        if (direction, length) not in self._lines:
            sides = {along(s, direction) for s in self.shapes if across(s, direction) <= length}
            least = min(sides, default=max(self.whole) + 1)
            borne = sides if self.strict else {mark for mark in self.marks if mark >= least}
            self._lines[direction, length] = _Line(sorted(borne, reverse=True), least)
        return self._lines[direction, length]

    def goes_on(self, state: State) -> bool:
        """Whether what is left of a chain is worth turning and cutting on as it is."""
        return (
            self.reach.leftovers
            or (state.direction, along(state.shape, state.direction)) in self._sides
        )

    @cached_property
    def _sides(self) -> set[tuple[Direction, int]]:
        """Each side of a wanted shape, by direction."""
        return {(way, along(shape, way)) for shape, way in product(self.shapes, DIRECTIONS)}
