"""Every true cutting of a rectangle, as states joined by cuts.

A state is a rectangle being cut in one direction, piece after piece, the widest first. Cutting a
chain in falling order loses nothing, since the cuts of one chain may be made in any order; the
states it saves are most of them. Each level below turns the direction: rows, pieces, trims. Silva,
Alvelos and Valerio de Carvalho, EJOR 205 (2010), model cuts as such activities.

Cuts are true (layouts/truth): what a cut measures must be there for a piece. So the first part of a
cut *owes* a piece as long as itself across the direction in which it is cut on; the debt is paid by
a part that is a wanted shape, or by one whose own cuts *close*, leaving nothing over.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.layouts.tree import Chain, Leaf, Node
from workbench.planning.layouts.truth import extent
from workbench.planning.limits import Reach
from workbench.planning.shape import DIRECTIONS, WIDTH, Shape, across, along, split


class State(NamedTuple):
    """A rectangle to be cut in `direction`, by no mark above `last` (0: not yet cut).

    `owes`: a part as long as the rectangle's other side is still due. `closes`: nothing may be
    left over in `direction`. `level` counts the turns of direction from 1, or is 0 where they are
    not counted. `after` is the mark at which it was cut off (0: it is what remains of a row).
    """

    width: int
    height: int
    direction: Direction
    level: int
    last: int
    owes: bool = False
    closes: bool = False
    after: int = 0

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


def cut_graph(
    whole: Shape,
    shapes: Collection[Shape],
    reach: Reach,
    trimmer: TrimmerLimits,
    *,
    turning: bool,
) -> CutGraph:
    """All true cuttings of `whole` into `shapes` within `reach`, each mark a side of a shape.

    `turning`: every shape serves as well turned, so that a square need be begun one way only.

    Raises:
        TooLargeError: there are more arcs than `reach` allows.
    """
    ways = DIRECTIONS[:1] if turning and whole[0] == whole[1] else DIRECTIONS
    return _Builder(whole, frozenset(shapes), reach, trimmer).built(ways)


def graph_of(layouts: Iterable[Node], shapes: Collection[Shape]) -> CutGraph:
    """The true layouts given, and all that can be put together of their parts.

    All are of one rectangle. A layout that no state can tell is left out.
    """
    graph = CutGraph()
    for root in layouts:
        found: list[Arc] = []
        if isinstance(root, Chain):
            start = State(*root.shape, root.direction, 0, 0)
        elif root.item is not None:
            start = State(*root.shape, WIDTH, 0, 0)
        else:
            continue
        try:
            _walk(root, start, frozenset(shapes), found)
        except _NoStateError:
            continue
        graph |= CutGraph([start], _by_state(found))
    return graph


def _by_state(arcs: Iterable[Arc]) -> dict[State, list[Arc]]:
    found: dict[State, list[Arc]] = defaultdict(list)
    for arc in dict.fromkeys(arcs):
        found[arc.state].append(arc)
        for end in (arc.first, arc.rest):
            if isinstance(end, State):
                found.setdefault(end, [])
    return dict(found)


class _NoStateError(Exception):
    """Raised where a part of a layout fits no state."""


def _walk(node: Node, state: State, shapes: frozenset[Shape], found: list[Arc]) -> None:
    """Collect the arcs that cut `node`, which lies in `state`."""
    if isinstance(node, Leaf):
        if node.item is None:
            if not state.optional:
                raise _NoStateError
            return
        found.append(Arc(state, 0, node.shape, None))
        return
    if node.direction is not state.direction:
        turned = _turned(state)
        found.append(Arc(state, 0, turned, None))
        _walk(node, turned, shapes, found)
        return
    at = state
    cuts = sorted(node.cuts, key=lambda cut: -cut[0])
    for number, (mark, first) in enumerate(cuts):
        part, rest = split(at.shape, at.direction, mark)
        end, pays = _first_end(first, part, at, shapes)
        left = isinstance(node.rest, Leaf) and node.rest.item is None and number == len(cuts) - 1
        owes = at.owes and not pays
        more = at._replace(width=rest[0], height=rest[1], last=mark, owes=owes)
        if left and more.optional and not _useful(rest, shapes):
            found.append(Arc(at, mark, end, None))
            _descend(first, end, shapes, found)
            return
        found.append(Arc(at, mark, end, more))
        _descend(first, end, shapes, found)
        at = more
    _walk(node.rest, at, shapes, found)


def _descend(first: Node, end: State | Shape, shapes: frozenset[Shape], found: list[Arc]) -> None:
    if isinstance(end, State):
        _walk(first, end, shapes, found)


def _first_end(
    first: Node, part: Shape, at: State, shapes: frozenset[Shape]
) -> tuple[State | Shape, bool]:
    """What the first part of a cut is, and whether it pays what `at` owes."""
    if isinstance(first, Leaf):
        if first.item is None or part not in shapes:
            raise _NoStateError
        return part, True
    if first.direction is at.direction:
        raise _NoStateError
    needed = extent(first)
    pays = (
        at.owes
        and needed is not None
        and along(needed, first.direction) == along(part, first.direction)
    )
    mark = along(part, at.direction)
    return State(*part, first.direction, 0, 0, True, pays, mark), pays


def _useful(shape: Shape, shapes: Iterable[Shape]) -> bool:
    return any(w <= shape[0] and h <= shape[1] for w, h in shapes)


def _turned(state: State) -> State:
    """What remains of a row, to be cut in the other direction; what it owed must close there."""
    level = state.level + 1 if state.level else 0
    way = state.direction.other
    return State(*state.shape, way, level, 0, state.closes, state.owes)


@dataclass
class _Builder:
    whole: Shape
    shapes: frozenset[Shape]
    reach: Reach
    trimmer: TrimmerLimits
    graph: CutGraph = field(default_factory=CutGraph)
    _fits: dict[Shape, bool] = field(default_factory=dict)

    def __post_init__(self) -> None:
        sides = {side for shape in self.shapes for side in shape}
        if self.reach.every:
            sides = _sums(sides, max(self.whole), self.reach.most)
        self.marks = sorted(sides, reverse=True)
        self._breadths: dict[tuple[Direction, int], int] = {}
        for way in DIRECTIONS:
            for shape in self.shapes:
                key, breadth = (way, along(shape, way)), across(shape, way)
                self._breadths[key] = min(breadth, self._breadths.get(key, breadth))

    def built(self, ways: Collection[Direction]) -> CutGraph:
        level = 0 if self.reach.every else 1
        if self._useful(self.whole):
            self.graph.starts = [State(*self.whole, way, level, 0) for way in ways]
        todo = list(self.graph.starts)
        count = 0
        while todo:
            state = todo.pop()
            if state in self.graph.arcs:
                continue
            arcs = self.graph.arcs[state] = list(self._arcs(state))
            count += len(arcs)
            if count > self.reach.most:
                raise TooLargeError
            for arc in arcs:
                todo += [end for end in (arc.first, arc.rest) if isinstance(end, State)]
        return _pruned(self.graph)

    def _useful(self, shape: Shape) -> bool:
        if shape not in self._fits:
            self._fits[shape] = _useful(shape, self.shapes)
        return self._fits[shape]

    def _arcs(self, state: State) -> Iterator[Arc]:
        if state.shape in self.shapes and (state.last or state in self.graph.starts):
            yield Arc(state, 0, state.shape, None)
        whole, line = along(state.shape, state.direction), across(state.shape, state.direction)
        for mark in self.marks:
            if mark >= whole or (state.last and mark > state.last):
                continue
            if self._borne(state.direction, mark, line) and self.trimmer.cuts(line, mark, whole):
                yield from self._cuts(state, mark)
        if state.last and self._may_turn(state) and self._goes_on(state):
            yield Arc(state, 0, _turned(state), None)

    def _borne(self, direction: Direction, mark: int, line: int) -> bool:
        """Whether some shape is as long as `mark`, and no broader than the line that is cut."""
        if self.reach.every:
            return True
        breadth = self._breadths.get((direction, mark))
        return breadth is not None and breadth <= line

    def _may_turn(self, state: State) -> bool:
        return self.reach.every or state.level < self.reach.levels

    def _cuts(self, state: State, mark: int) -> Iterator[Arc]:
        part, rest = split(state.shape, state.direction, mark)
        for end, owes in self._firsts(state, part):
            more = state._replace(width=rest[0], height=rest[1], last=mark, owes=owes)
            if self._useful(rest):
                yield Arc(state, mark, end, more)
            elif more.optional:
                yield Arc(state, mark, end, None)

    def _firsts(self, state: State, part: Shape) -> Iterator[tuple[State | Shape, bool]]:
        """What the first part may be, and whether the state owes as before."""
        if part in self.shapes:
            yield part, False
        if not self._useful(part) or not self._may_turn(state):
            return
        mark, level = along(part, state.direction), state.level and state.level + 1
        begun = State(*part, state.direction.other, level, 0, True, after=mark)
        yield begun, state.owes
        if state.owes:
            yield begun._replace(closes=True), False
        if self.reach.every:
            again = begun._replace(direction=state.direction, owes=False, closes=True)
            yield again, state.owes
            if state.owes:
                yield again._replace(owes=True), False

    def _goes_on(self, state: State) -> bool:
        """Whether what is left of a chain is worth turning and cutting on as it is."""
        return self.reach.leftovers or any(
            along(shape, state.direction) == along(state.shape, state.direction)
            for shape in self.shapes
        )


def _sums(sides: Collection[int], most: int, count: int) -> set[int]:
    """All sums of `sides`, taken any number of times, that are no more than `most`.

    Raises:
        TooLargeError: there are more than `count`.
    """
    found: set[int] = set()
    todo = [0]
    while todo:
        at = todo.pop()
        for side in sides:
            if at + side <= most and at + side not in found:
                found.add(at + side)
                todo.append(at + side)
        if len(found) > count:
            raise TooLargeError
    return found


def _pruned(graph: CutGraph) -> CutGraph:
    """The graph without states that can come to no good end."""
    dead = {state for state, arcs in graph.arcs.items() if not arcs and not state.optional}
    more = bool(dead)
    while more:
        more = False
        for state, arcs in graph.arcs.items():
            kept = [arc for arc in arcs if arc.first not in dead and arc.rest not in dead]
            if len(kept) < len(arcs):
                graph.arcs[state] = kept
                if not kept and not state.optional and state not in dead:
                    dead.add(state)
                    more = True
    found = CutGraph([start for start in graph.starts if start not in dead])
    todo = list(reversed(found.starts))
    while todo:
        state = todo.pop()
        if state not in found.arcs:
            found.arcs[state] = graph.arcs[state]
            for arc in graph.arcs[state]:
                todo += [end for end in (arc.first, arc.rest) if isinstance(end, State)]
    return found
