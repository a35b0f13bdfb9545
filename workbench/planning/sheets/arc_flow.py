"""The arc-flow model of a subproblem: rectangles flow through cuts until all is served.

Sets: B, blocks of papers that are cut exactly alike, m_b of them; S_b, the sources of block b
(whole sheets, offcuts); V_b and A_b, the states and arcs of its cut graph; I, the items; O_bi,
the shapes in which item i may lie on the papers of b.
Variables, all whole numbers, for each paper of block b: y_bsv, sheets of source s begun in state
v; x_ba, how often arc a is used; z_bo, how often a rectangle of shape o serves its item.

    minimise    what the caller prices: strokes, or wanted pieces served
    subject to  arcs out of v <= sheets begun in v + arcs into v         for each b, v in V_b
                sum over v of y_bsv <= sheets of s on hand               for each b, s
                z_bo <= rectangles of shape o that arcs make             for each b, o
                least_i <= sum over b, o in O_bi of m_b z_bo <= copies_i for each i
                sum over b, s of c_s m_b y_bsv <= sheets allowed
                and the rows that let all of it be dealt (`mixing.assignment_rows`)

Sources: Silva, Alvelos and Valerio de Carvalho, EJOR 205 (2010) 699-708; Furini, Malaguti and
Thomopulos, INFORMS J. Computing 28 (2016) 736-751.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from workbench.planning.instance.instance import Subproblem
from workbench.planning.instance.stock_classes import StackedPapers
from workbench.planning.layouts.tree import Layout
from workbench.planning.limits import Reach
from workbench.planning.milp import Milp, MilpResult
from workbench.planning.mixing.card_types import Use
from workbench.planning.shape import Shape
from workbench.planning.sheets.cut_graph import cut_graph_of
from workbench.planning.sheets.cut_states import Arc, CutGraph, State
from workbench.planning.sheets.rolling import FlowColumns, rolled
from workbench.planning.sheets.unrolling import Orientation, Unrolled, wanted_shapes


@dataclass
class ArcFlowModel:
    """Minimise what the caller prices, over every cutting of the group's papers.

    `sheets`, `cuts` and `served` hold the columns that count, each with its number of papers.
    """

    group: Subproblem
    blocks: Sequence[StackedPapers]
    reach: Reach
    program: Milp = field(default_factory=Milp)
    sheets: dict[int, int] = field(default_factory=dict)
    cuts: dict[int, int] = field(default_factory=dict)
    _cutters: list["_Cutter"] = field(default_factory=list)

    def __post_init__(self) -> None:
        served: dict[int, dict[int, float]] = defaultdict(dict)
        for block in self.blocks:
            cutter = _Cutter(self.group, block, self.reach, self.program)
            self._cutters.append(cutter)
            for column in cutter.sheet_columns():
                self.sheets[column] = block.copies
            for column in cutter.cut_columns():
                self.cuts[column] = block.copies
            for (index, _), column in cutter.served.items():
                served[index][column] = block.copies
        self.served = served

    def ask_all(self) -> None:
        """Ask for every needed piece exactly, and for wanted ones up to their number.

        Whatever is cut can then be dealt to the cards.
        """
        cut: dict[Use, dict[int, float]] = defaultdict(dict)
        for cutter in self._cutters:
            for (index, _), column in cutter.served.items():
                for supply in cutter.block.supplies:
                    cut[self.group.items[index].name, supply.paper][column] = 1.0
        self.group.add_dealing_rows(self.program, cut)
        for index, item in enumerate(self.group.items):
            least = item.least
            self.program.add_row(least, self.served[index], item.copies)

    def wanted(self) -> dict[int, float]:
        """The columns that serve pieces cut only if they fit."""
        return {
            column: copies
            for index, columns in self.served.items()
            if self.group.items[index].least < self.group.items[index].copies
            for column, copies in columns.items()
        }

    def limit_sheets(self, most: int) -> None:
        """Add the row that allows `most` whole sheets at a cost."""
        self.program.add_row(0, dict(self.sheets), most)

    def columns_of(self, layouts: Iterable[Layout]) -> set[int]:
        """The columns that cut `layouts`, those left out that the graphs do not have."""
        return {column for cutter in self._cutters for column in cutter.columns_of(layouts)}

    def layouts(self, answer: MilpResult) -> tuple[Layout, ...]:
        """The answer's sheets as trees, those of one block's papers alike."""
        return tuple(layout for cutter in self._cutters for layout in cutter.layouts(answer))


def columns_asked(group: Subproblem, blocks: Iterable[StackedPapers], reach: Reach) -> int:
    """How many columns the model of these would have. Raises TooLargeError."""
    count = 0
    for block in blocks:
        nets = _nets(group, block, reach)
        arcs = {arc for net in nets for arcs in net.arcs.values() for arc in arcs}
        served = wanted_shapes(group, block.lead).values()
        count += len(arcs) + sum(map(len, served)) + sum(len(net.starts) for net in nets)
    return count


def _nets(group: Subproblem, block: StackedPapers, reach: Reach) -> list[CutGraph]:
    """The cut graph of each source of a block's papers."""
    shapes = frozenset(wanted_shapes(group, block.lead))
    return [
        cut_graph_of(
            (source.width, source.height), shapes, reach, group.trimmer, turning=block.lead.turns
        )
        for source in block.lead.sources
    ]


class _Cutter:
    """One block's part of the program: its sources, states, arcs and what they serve."""

    def __init__(
        self,
        group: Subproblem,
        block: StackedPapers,
        reach: Reach,
        program: Milp,
    ) -> None:
        self.group, self.block = group, block
        self.shapes = wanted_shapes(group, block.lead)
        self.starts: dict[tuple[int, State], int] = {}
        self.arcs: dict[Arc, int] = {}
        self.served: dict[Orientation, int] = {}
        flows: dict[State | Shape, dict[int, float]] = defaultdict(lambda: defaultdict(float))
        for number, net in enumerate(_nets(group, block, reach)):
            self._add_starts(program, flows, number, net)
            self._add_arcs(program, flows, net)
        self._add_served(program, flows)
        for terms in flows.values():
            program.add_row(0, terms)

    def _add_starts(
        self,
        program: Milp,
        flows: dict[State | Shape, dict[int, float]],
        number: int,
        net: CutGraph,
    ) -> None:
        taken = {}
        for start in net.starts:
            column = program.add_column(high=self.block.available(number))
            self.starts[number, start] = column
            flows[start][column] += 1
            taken[column] = 1.0
        if taken:
            program.add_row(0, taken, self.block.available(number))

    def _add_arcs(
        self, program: Milp, flows: dict[State | Shape, dict[int, float]], net: CutGraph
    ) -> None:
        for arcs in net.arcs.values():
            for arc in arcs:
                if arc in self.arcs:
                    continue
                column = self.arcs[arc] = program.add_column()
                flows[arc.state][column] -= 1
                for end in (arc.first, arc.rest):
                    if end is not None:
                        flows[end][column] += 1

    def _add_served(self, program: Milp, flows: dict[State | Shape, dict[int, float]]) -> None:
        for shape, orientations in self.shapes.items():
            for index, turned in orientations:
                column = program.add_column(high=self.group.items[index].copies)
                self.served[index, turned] = column
                flows[shape][column] -= 1

    def sheet_columns(self) -> Iterator[int]:
        return (column for (number, _), column in self.starts.items() if self.costs(number))

    def costs(self, source: int) -> bool:
        return self.block.lead.sources[source].cost > 0

    def cut_columns(self) -> Iterator[int]:
        """Each cut's column."""
        return (column for arc, column in self.arcs.items() if arc.mark)

    def columns_of(self, layouts: Iterable[Layout]) -> Iterator[int]:
        """The columns that cut the layouts of the block's paper, as far as its graph has them."""
        columns = FlowColumns(self.starts, self.arcs, self.served)
        for layout in layouts:
            if layout.paper == self.block.lead.paper:
                yield from rolled([layout], self.block.lead, self.group.items, columns) or ()

    def layouts(self, answer: MilpResult) -> Iterator[Layout]:
        unrolled = Unrolled(self.group, self.shapes, answer, self.arcs, self.served)
        for (number, start), column in self.starts.items():
            for root, times in unrolled.nodes(start, answer.whole(column)):
                for supply in self.block.supplies:
                    yield Layout(supply.paper, supply.sources[number], root, times)
