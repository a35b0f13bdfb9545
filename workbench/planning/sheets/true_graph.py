"""Every true cutting of a rectangle, as states joined by cuts (`cut_states`).

Cuts are true (layouts/truth): what a cut measures must be there for a piece. So the first part of a
cut *owes* a piece as long as itself across the direction in which it is cut on; the debt is paid by
a part that is a wanted shape, or by one whose own cuts *close*, leaving nothing over.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.layouts.tree import Chain, Leaf, Node
from workbench.planning.layouts.truth import extent
from workbench.planning.limits import Reach
from workbench.planning.shape import WIDTH, Shape, along, split
from workbench.planning.sheets.cut_states import (
    Arc,
    CutGraph,
    GraphBuilder,
    State,
    TooLargeError,
    useful,
)


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
    return _Builder(whole, frozenset(shapes), reach, trimmer, turning).built()


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
        if left and more.optional and not useful(rest, shapes):
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
    after = along(part, at.direction), at.direction
    return State(*part, first.direction, 0, 0, True, pays, after), pays


def _turned(state: State, *, waits: bool = False) -> State:
    """What remains of a row, to be cut in the other direction; what it owed must close there.

    `waits`: it is told what it remains of, too.
    """
    level = state.level + 1 if state.level else 0
    way = state.direction.other
    after = (state.last, state.direction) if waits and state.last else None
    return State(*state.shape, way, level, 0, state.closes, state.owes, after)


_Firsts = Sequence[tuple[State | Shape, bool]]
"""What the first part of a cut may be, each with whether its state then still owes."""


@dataclass
class _Builder(GraphBuilder):
    _known: dict[tuple[Shape, Direction, int, bool], _Firsts] = field(default_factory=dict)

    @property
    def strict(self) -> bool:
        return not self.reach.every

    @cached_property
    def marks(self) -> set[int]:
        """The sides of the shapes; where every true cut is looked at, their sums too."""
        sides = super().marks
        return _sums(sides, max(self.whole), self.reach.most) if self.reach.every else sides

    def built(self) -> CutGraph:
        return _pruned(self.explored(0 if self.reach.every else 1))

    def arcs(self, state: State) -> Iterator[Arc]:
        if state.shape in self.shapes and (state.last or state in self.graph.starts):
            yield Arc(state, 0, state.shape, None)
        for mark, useful_rest in self.cuts(state):
            yield from self._arcs_at(state, mark, useful_rest)
        if state.last and self._turns_at(state.level) and self.goes_on(state):
            yield Arc(state, 0, _turned(state, waits=self.reach.every), None)

    def _turns_at(self, level: int) -> bool:
        return self.reach.every or level < self.reach.levels

    def _arcs_at(self, state: State, mark: int, useful_rest: bool) -> Iterator[Arc]:
        width, height, way, level, _, owed, closes, after = state
        part, rest = split((width, height), way, mark)
        key = part, way, level, owed
        if key not in self._known:
            self._known[key] = self._firsts(*key)
        for end, owes in self._known[key]:
            if useful_rest:
                more = State(*rest, way, level, mark, owes, closes, after)
                yield Arc(state, mark, end, more)
            elif not owes and not closes:
                yield Arc(state, mark, end, None)

    def _firsts(self, part: Shape, way: Direction, level: int, owed: bool) -> _Firsts:
        found: list[tuple[State | Shape, bool]] = [(part, False)] if part in self.shapes else []
        if not self._turns_at(level):
            return found
        after, below = (along(part, way), way), level and level + 1
        found.append((State(*part, way.other, below, 0, True, False, after), owed))
        if owed:
            found.append((State(*part, way.other, below, 0, True, True, after), False))
        if self.reach.every:
            found.append((State(*part, way, below, 0, False, True, after), owed))
            if owed:
                found.append((State(*part, way, below, 0, True, True, after), False))
        return found


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
