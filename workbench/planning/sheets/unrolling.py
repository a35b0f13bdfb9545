"""From the flow of a model's answer back to sheets: trees of cuts, alike ones counted."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from workbench.planning.instance.instance import Subproblem, Supply
from workbench.planning.layouts.tree import Chain, Leaf, Node, leaves
from workbench.planning.milp import MilpResult
from workbench.planning.shape import Shape, split
from workbench.planning.sheets.cut_states import Arc, State

Orientation = tuple[int, bool]


def wanted_shapes(group: Subproblem, supply: Supply) -> dict[Shape, list[Orientation]]:
    """The rectangles worth cutting from `supply`, as they lie on the sheet, and what they serve."""
    shapes: dict[Shape, list[Orientation]] = defaultdict(list)
    for index in group.eligible(supply):
        item = group.items[index]
        shapes[item.width, item.height].append((index, False))
        if supply.turns and item.width != item.height:
            shapes[item.height, item.width].append((index, True))
    return dict(shapes)


@dataclass
class Unrolled:
    """Takes the flow of an answer apart. `arcs` and `served` tell the column of each.

    `left` says how often each cut is still to be made and each piece to be served.
    """

    group: Subproblem
    shapes: Mapping[Shape, Sequence[Orientation]]
    answer: MilpResult
    arcs: Mapping[Arc, int]
    served: Mapping[Orientation, int]

    def __post_init__(self) -> None:
        self.left = Counter[Arc | Orientation]()
        self.by_state: dict[State, list[Arc]] = defaultdict(list)
        self.used = Counter[Arc | Orientation]()
        for arc, column in self.arcs.items():
            if count := self.answer.whole(column):
                self.left[arc] = count
                self.by_state[arc.state].append(arc)
        for served, column in self.served.items():
            self.left[served] = self.answer.whole(column)

    def nodes(self, start: State, sheets: int) -> Iterator[tuple[Node, int]]:
        """The trees of so many sheets, and how many are alike: as many as the flow allows.

        Sheets that bear no piece are left out.
        """
        while sheets:
            self.used.clear()
            root = self._node(start)
            spare = [self.left[what] // count for what, count in self.used.items()]
            times = 1 + min([sheets - 1, *spare])
            for what, count in self.used.items():
                self.left[what] -= count * (times - 1)
            if any(leaf.item is not None for leaf in leaves(root)):
                yield root, times
            sheets -= times

    def _node(self, state: State) -> Node:
        cuts: list[tuple[int, Node]] = []
        at: State | None = state
        left = state.shape
        while at is not None:
            left = at.shape
            arc = self._take(at)
            if arc is None:
                break
            if not arc.mark:
                return _chain(state, cuts, self._end(arc.first, left))
            part, left = split(at.shape, at.direction, arc.mark)
            cuts.append((arc.mark, self._end(arc.first, part)))
            at = arc.rest
        return _chain(state, cuts, Leaf(*left))

    def _take(self, state: State) -> Arc | None:
        for arc in self.by_state[state]:
            if self.left[arc]:
                self._use(arc)
                return arc
        return None

    def _use(self, what: Arc | Orientation) -> None:
        self.left[what] -= 1
        self.used[what] += 1

    def _end(self, end: State | Shape, shape: Shape) -> Node:
        if isinstance(end, State):
            return self._node(end)
        for index, turned in self.shapes[shape]:
            if self.left[index, turned]:
                self._use((index, turned))
                return Leaf(*shape, self.group.items[index].id, turned)
        return Leaf(*shape)


def _chain(state: State, cuts: list[tuple[int, Node]], rest: Node) -> Node:
    if not cuts:
        return rest
    return Chain(*state.shape, state.direction, tuple(cuts), rest)
