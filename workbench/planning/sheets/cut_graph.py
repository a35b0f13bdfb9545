"""Every way to cut a rectangle edge to edge, as a graph of states joined by cuts (`cut_states`)."""

from collections.abc import Iterator
from functools import lru_cache

from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.limits import Reach
from workbench.planning.shape import Shape, across, along, split
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
    def arcs(self, state: State) -> Iterator[Arc]:
        shape = state.shape
        measured, line = along(shape, state.direction), across(shape, state.direction)
        if shape in self.shapes:
            yield Arc(state, 0, shape, None)
        for mark in self.marks:
            if mark >= measured or (state.last and mark > state.last):
                continue
            if self.trimmer.cuts(line, mark, measured) and (arc := self._cut(state, mark)):
                yield arc
        begun = state.last or (self.reach.again and state.level > 1)
        if begun and state.level < self.reach.levels and self.goes_on(state):
            turned = state._replace(direction=state.direction.other, level=state.level + 1, last=0)
            yield Arc(state, 0, turned, None)

    def _cut(self, state: State, mark: int) -> Arc | None:
        direction, level = state.direction, state.level
        first, rest = split(state.shape, direction, mark)
        line = across(state.shape, direction)
        if not self.useful(first) or (self.reach.strict and not self.borne(direction, mark, line)):
            return None
        end: State | Shape
        if level < self.reach.levels:
            end = State(*first, direction.other, level + 1, 0)
        elif first in self.shapes:
            end = first
        else:
            return None
        more = State(*rest, direction, level, mark) if self.useful(rest) else None
        return Arc(state, mark, end, more)
