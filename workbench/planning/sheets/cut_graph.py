"""Every way to cut a rectangle edge to edge, as a graph of states joined by cuts (`cut_states`)."""

from collections.abc import Iterator
from functools import lru_cache

from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.limits import Reach
from workbench.planning.shape import Shape, split
from workbench.planning.sheets.cut_states import Arc, CutGraph, GraphBuilder, State


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
    return _Builder(whole, shapes, reach, trimmer, turning).explored()


class _Builder(GraphBuilder):
    @property
    def strict(self) -> bool:
        return self.reach.strict

    def arcs(self, state: State) -> Iterator[Arc]:
        if state.shape in self.shapes:
            yield Arc(state, 0, state.shape, None)
        for mark, useful_rest in self.cuts(state):
            if arc := self._cut(state, mark, useful_rest):
                yield arc
        begun = state.last or (self.reach.again and state.level > 1)
        if begun and state.level < self.reach.levels and self.goes_on(state):
            turned = State(*state.shape, state.direction.other, state.level + 1, 0)
            yield Arc(state, 0, turned, None)

    def _cut(self, state: State, mark: int, useful_rest: bool) -> Arc | None:
        direction, level = state.direction, state.level
        first, rest = split(state.shape, direction, mark)
        end: State | Shape
        if level < self.reach.levels:
            end = State(*first, direction.other, level + 1, 0)
        elif first in self.shapes:
            end = first
        else:
            return None
        more = State(*rest, direction, level, mark) if useful_rest else None
        return Arc(state, mark, end, more)
