"""One paper's part of the program of the table: its sheets flow through cuts into what is wanted.

A column for every start (how many sheets begin in a state), every arc (how often it is used) and
every shape that serves an item; what flows into a state flows out of it.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from workbench.planning.instance.instance import Source, Subproblem, Supply
from workbench.planning.layouts.tree import Layout
from workbench.planning.milp import Milp, MilpResult
from workbench.planning.mixing.card_types import Use
from workbench.planning.shape import Shape
from workbench.planning.sheets.cut_states import Arc, CutGraph, State
from workbench.planning.sheets.rolling import FlowColumns, rolled
from workbench.planning.sheets.unrolling import Orientation, Unrolled, wanted_shapes

Terms = dict[int, float]


@dataclass(frozen=True)
class GraphedGroup:
    """A group, the cut graph of each source (by supply and number), and the sheets it may open.

    `known` cuts all that is asked for, though perhaps not well.
    """

    group: Subproblem
    graphs: Mapping[tuple[str, int], CutGraph]
    sheets: int
    known: tuple[Layout, ...] = ()

    @property
    def size(self) -> int:
        """How many arcs its graphs have."""
        return sum(graph.size for graph in self.graphs.values())


def networks_of(part: GraphedGroup, program: Milp) -> "list[PaperNetwork]":
    """The networks of a group's papers, with the rows that ask for its items and limit its sheets.

    Whatever they cut can be dealt to the cards.
    """
    networks = [PaperNetwork(part, supply, program) for supply in part.group.supplies]
    opened: Terms = {}
    served: dict[int, Terms] = defaultdict(dict)
    uses: dict[Use, Terms] = defaultdict(dict)
    for network in networks:
        opened.update(network.opened)
        for (index, _), column in network.served.items():
            served[index][column] = 1.0
            uses[part.group.items[index].name, network.supply.paper][column] = 1.0
    for index, item in enumerate(part.group.items):
        program.add_row(item.least, served[index], item.copies)
    part.group.add_dealing_rows(program, uses)
    program.add_row(0, opened, part.sheets)
    return networks


class PaperNetwork:
    """The columns and the balances of one paper of a group, added to `program`.

    `starts`, `arcs` and `served` are its columns, `opened` those of whole sheets; `graphs` are the
    graphs of its sources, and `left` what remains of rows in each shape.
    """

    def __init__(self, part: GraphedGroup, supply: Supply, program: Milp) -> None:
        self.part, self.supply = part, supply
        self.starts: dict[tuple[int, State], int] = {}
        self.arcs: dict[Arc, int] = {}
        self.served: dict[Orientation, int] = {}
        self.opened: Terms = {}
        self.graphs: list[tuple[Source, CutGraph]] = []
        self.left: list[tuple[Shape, Terms]] = []
        self._shapes = wanted_shapes(part.group, supply)
        self._program = program
        flows: dict[State | Shape, Terms] = defaultdict(lambda: defaultdict(float))
        for number, source in enumerate(supply.sources):
            graph = part.graphs.get((supply.paper, number))
            if graph is not None and source.available:
                self.graphs.append((source, graph))
                self._add_starts(number, source, graph, flows)
                self._add_arcs(graph, flows)
        self._add_served(flows)
        self._balance(flows)

    @property
    def columns(self) -> Iterator[int]:
        """Its columns: how often each start and arc is used, and each shape serves."""
        yield from (*self.starts.values(), *self.arcs.values(), *self.served.values())

    def _add_starts(
        self, number: int, source: Source, graph: CutGraph, flows: dict[State | Shape, Terms]
    ) -> None:
        taken = Terms()
        for start in graph.starts:
            column = self.starts[number, start] = self._program.add_column(high=source.available)
            flows[start][column] += 1
            taken[column] = 1.0
            if source.cost:
                self.opened[column] = 1.0
        if taken:
            self._program.add_row(0, taken, source.available)

    def _add_arcs(self, graph: CutGraph, flows: dict[State | Shape, Terms]) -> None:
        for arcs in graph.arcs.values():
            for arc in arcs:
                if arc in self.arcs:
                    continue
                column = self.arcs[arc] = self._program.add_column()
                flows[arc.state][column] -= 1
                for end in (arc.first, arc.rest):
                    if end is not None:
                        flows[end][column] += 1

    def _add_served(self, flows: dict[State | Shape, Terms]) -> None:
        for shape, orientations in self._shapes.items():
            for index, turned in orientations:
                copies = self.part.group.items[index].copies
                column = self.served[index, turned] = self._program.add_column(high=copies)
                flows[shape][column] -= 1

    def _balance(self, flows: Mapping[State | Shape, Terms]) -> None:
        for end, terms in flows.items():
            if isinstance(end, State) and end.optional:
                self._program.add_row(0, terms)
                self.left.append((end.shape, terms))
            else:
                self._program.add_row(0, terms, 0)

    def known_flow(self) -> Counter[int] | None:
        """How often each column is used by the cutting known of this paper; None: it cannot be."""
        known = [layout for layout in self.part.known if layout.paper == self.supply.paper]
        columns = FlowColumns(self.starts, self.arcs, self.served)
        return rolled(known, self.supply, self.part.group.items, columns)

    def layouts(self, answer: MilpResult) -> Iterator[Layout]:
        """The sheets of this paper that the answer cuts, alike ones as one layout."""
        unrolled = Unrolled(self.part.group, self._shapes, answer, self.arcs, self.served)
        for (number, start), column in self.starts.items():
            for root, times in unrolled.nodes(start, answer.whole(column)):
                yield Layout(self.supply.paper, self.supply.sources[number], root, times)
