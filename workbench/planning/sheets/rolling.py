"""From sheets to the flow of a model: the arcs and shapes that a tree of cuts uses.

The other way round from `unrolling`.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from workbench.planning.instance.instance import Item, Supply
from workbench.planning.layouts.tree import Chain, Layout, Leaf, Node
from workbench.planning.shape import Shape, split
from workbench.planning.sheets.cut_states import Arc, State
from workbench.planning.sheets.unrolling import Orientation

Cuts = tuple[tuple[int, Node], ...]
Use = Arc | Leaf
"""An arc taken, or a piece served."""


@dataclass(frozen=True)
class FlowColumns:
    """The columns of one paper in a model: what its starts (by source), arcs and shapes are."""

    starts: Mapping[tuple[int, State], int]
    arcs: Mapping[Arc, int]
    served: Mapping[Orientation, int]

    @cached_property
    def arcs_of(self) -> Mapping[State, Sequence[Arc]]:
        """The arcs out of each state."""
        found: dict[State, list[Arc]] = defaultdict(list)
        for arc in self.arcs:
            found[arc.state].append(arc)
        return found


def rolled(
    layouts: Iterable[Layout], supply: Supply, items: Sequence[Item], columns: FlowColumns
) -> Counter[int] | None:
    """How often each column is used where a paper is cut into `layouts`; None: it cannot be so."""
    indices = {item.id: index for index, item in enumerate(items)}
    found: Counter[int] = Counter()
    for layout in layouts:
        used = None
        for (number, start), column in columns.starts.items():
            if used is None and layout.source.like(supply.sources[number]):
                used = _Walk(columns.arcs_of, layout.root).uses(start)
                found[column] += layout.times if used is not None else 0
        if used is None:
            return None
        for use in used:
            if isinstance(use, Arc):
                found[columns.arcs[use]] += layout.times
            elif use.item is not None:
                found[columns.served[indices[use.item], use.turned]] += layout.times
    return found


@dataclass
class _Walk:
    """Looks for a tree of cuts among arcs, by state."""

    arcs: Mapping[State, Sequence[Arc]]
    root: Node
    _vain: set[tuple[State, int, int]] = field(default_factory=set, init=False)

    def uses(self, start: State) -> list[Use] | None:
        """The arcs that make the tree, and the pieces it has; None where they do not make it."""
        return self._node(self.root, start) if self.root.shape == start.shape else None

    def _node(self, node: Node, state: State) -> list[Use] | None:
        if isinstance(node, Leaf):
            return self._leaf(node, state)
        if node.direction is not state.direction:
            return self._turned(node, state)
        return self._row(node, tuple(sorted(node.cuts, key=lambda cut: -cut[0])), state)

    def _leaf(self, leaf: Leaf, state: State) -> list[Use] | None:
        if leaf.item is None:
            return [] if state.optional else None
        for arc in self.arcs.get(state, ()):
            if not arc.mark and arc.first == leaf.shape:
                return [arc, leaf]
        return None

    def _turned(self, node: Node, state: State) -> list[Use] | None:
        """What remains of a row, cut in the other direction."""
        for arc in self.arcs.get(state, ()):
            if not arc.mark and isinstance(arc.first, State):
                found = self._node(node, arc.first)
                if found is not None:
                    return [arc, *found]
        return None

    def _row(self, chain: Chain, cuts: Cuts, state: State) -> list[Use] | None:
        """The cuts of a row that are still to be made, and what remains of it."""
        if not cuts:
            return self._node(chain.rest, state)
        key = state, id(chain), len(cuts)
        if key in self._vain:
            return None
        (mark, first), more = cuts[0], cuts[1:]
        part = split(state.shape, state.direction, mark)[0]
        for arc in self.arcs.get(state, ()):
            if arc.mark != mark:
                continue
            rest = self._rest(chain, more, arc.rest)
            found = None if rest is None else self._end(first, part, arc.first)
            if found is not None and rest is not None:
                return [arc, *found, *rest]
        self._vain.add(key)
        return None

    def _rest(self, chain: Chain, more: Cuts, rest: State | None) -> list[Use] | None:
        if rest is not None:
            return self._row(chain, more, rest)
        over = isinstance(chain.rest, Leaf) and chain.rest.item is None
        return [] if over and not more else None

    def _end(self, node: Node, shape: Shape, end: State | Shape) -> list[Use] | None:
        if isinstance(end, State):
            return self._node(node, end)
        return [node] if isinstance(node, Leaf) and node.item is not None else None
