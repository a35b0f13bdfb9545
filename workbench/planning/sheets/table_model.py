"""The integer program of a whole batch: rectangles flow through cuts until all is served.

Sets
    g   groups of papers; s states of the cut graph of each paper's sheets (true_graph); a arcs;
    p   piles: rectangles of one size cut in one direction at one mark, of one kind of paper;
    m   marks; r rectangles that could be kept as an offcut; c circles of marks.
Variables, whole numbers
    x_a  how often arc a is used; n_s how many sheets begin in state s; v_i how many of item i are
    served by a shape; k_p strokes of the blade on pile p; y_m 1 where the guide is ever set to m;
    e_m how often it is set to m again; z_ab 1 where some cut at mark b waits for one at mark a;
    o_r 1 where r is the offcut kept; where turns are asked for, d_mw 1 where something is cut at m
    in direction w, b_m 1 where m is cut at both ways, t turns of the sheets.
Constraints
    what flows into a state flows out of it (a remainder may be left over); each item is served as
    often as asked; no more sheets than allowed, and than there are; what is cut can be dealt to the
    cards (mixing/assignment_rows); at_once k_p >= the arcs of pile p; k_p <= M y_m;
    at most one offcut, no more than is left over; the z of a circle of marks, each of which waits
    for the one before, sum up to less than its length, plus the e of its marks (such rows are added
    as circles are met with: `break_circle`). Where turns are asked for, the e and t of settings
    that wait for one another cost what every order of them does (`charge_order`, as met with).
    d_mw <= y_m, k_p <= M d_mw; b_m + e_m >= the sum of d_mw over w, less y_m; t >= the sum of b_m;
    t >= 1 where cuts lie in both directions.
Objective
    one figure after another (`figures`): pieces cut if they fit, seconds at the table, marks,
    strokes, the area of the offcut.
No order of the cuts turns the sheets less often than t, which is nothing if not asked for.

Source: arc-flow models of guillotine cutting (Silva, Alvelos and Valerio de Carvalho, EJOR 205
(2010) 699-708; Furini, Malaguti and Thomopulos, INFORMS J. Computing 28 (2016) 736-751), with
set-up costs for marks.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.craft.pace import Pace
from workbench.craft.paper import PaperKind
from workbench.planning.instance.instance import Source
from workbench.planning.layouts.tree import Layout
from workbench.planning.milp import Milp, MilpResult
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape, along, with_side
from workbench.planning.sheets.cut_states import CutGraph
from workbench.planning.sheets.mark_circles import Wait
from workbench.planning.sheets.paper_network import GraphedGroup, PaperNetwork, Terms, networks_of
from workbench.planning.sheets.setting_waits import SettingWait, order_cost

Flow = Mapping[int, int]
"""How often a model's starts, arcs and shapes are used, by column."""


class Stacks(NamedTuple):
    """What a paper is stacked as: its kind, and how many sheets of that the trimmer takes."""

    kind: PaperKind
    at_once: int


class Pile(NamedTuple):
    """Rectangles that can be stacked where they are cut at the same mark."""

    width: int
    height: int
    direction: Direction
    mark: int
    stacks: Stacks


@dataclass
class TableModel:
    """The program over `parts`; `stacks` by paper.

    Columns of the program: `sheets`, `arcs` with a mark (`laid`), `strokes` by pile, `marks`,
    `offcuts` by shape, once they are added.
    """

    parts: Sequence[GraphedGroup]
    stacks: Mapping[str, Stacks]
    turning: bool = False
    loose: bool = False
    program: Milp = field(default_factory=Milp)
    laid: Terms = field(default_factory=dict)
    strokes: dict[Pile, int] = field(default_factory=dict)
    marks: dict[int, int] = field(default_factory=dict)
    offcuts: dict[Shape, int] = field(default_factory=dict)
    wanted: Terms = field(default_factory=dict)
    again: dict[int, int] = field(default_factory=dict)
    turns: Terms = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._piles: dict[Pile, Terms] = defaultdict(dict)
        self._room: Counter[Pile] = Counter()
        self._left: dict[Shape, Terms] = defaultdict(dict)
        self._waits: dict[SettingWait, Terms] = defaultdict(dict)
        self._waiting: dict[Wait | SettingWait, int] = {}
        self._networks: list[PaperNetwork] = []
        for part in self.parts:
            self._add(part)
        self._most = sum(part.group.pieces for part in self.parts)
        self._ways: dict[tuple[int, Direction], int] = {}
        self._turned: dict[int, int] = {}
        for pile, terms in self._piles.items():
            self._add_pile(pile, terms)
        if self.turning:
            self._add_turns()

    def _add(self, part: GraphedGroup) -> None:
        networks = networks_of(part, self.program)
        for network in networks:
            self._add_cuts(network)
        self._networks += networks
        for network in networks:
            for (index, _), column in network.served.items():
                if part.group.items[index].least < part.group.items[index].copies:
                    self.wanted[column] = 1.0

    def _add_cuts(self, network: PaperNetwork) -> None:
        """Count the cuts of a paper: what they are stacked with, wait for and leave over."""
        stacks = self.stacks[network.supply.paper]
        for (number, _), column in network.starts.items():
            source = network.supply.sources[number]
            if source.margin and source.margin_mark is not None:
                whole, way = _with_margin(source), source.margin.direction
                pile = self._pile(whole, way, source.margin_mark, stacks)
                self._stroke(pile, column)
                self._room[pile] += source.available
        for arc, column in network.arcs.items():
            if arc.mark:
                pile = self._pile(arc.state.shape, arc.state.direction, arc.mark, stacks)
                self._stroke(pile, column)
                setting = arc.mark, arc.state.direction
                if arc.state.after not in (None, setting):
                    self._waits[arc.state.after, setting][column] = 1.0
                if arc.left_over:
                    self._leave(arc.left_over, {column: 1.0})
        for shape, terms in network.left:
            self._leave(shape, terms)
        for source, graph in network.graphs:
            self._add_room(source, graph, network.part.sheets, stacks)

    def _add_room(self, source: Source, graph: CutGraph, opened: int, stacks: Stacks) -> None:
        """Add how many rectangles a source has room for in each pile, `opened` sheets at most."""
        sheets = min(source.available, opened) if source.cost else source.available
        piles = {
            self._pile(state.shape, state.direction, arc.mark, stacks)
            for state, arcs in graph.arcs.items()
            for arc in arcs
            if arc.mark
        }
        for pile in piles:
            a_sheet = source.width * source.height // (pile.width * pile.height)
            self._room[pile] += sheets * a_sheet

    def _pile(self, shape: Shape, direction: Direction, mark: int, stacks: Stacks) -> Pile:
        """The pile of rectangles of that shape; of any length, where piles are loose.

        The parts of a row may be cut off in any order: how long the rectangle is then, the model
        does not know. Loose piles are stacked at least as well as any order of the cuts allows.
        """
        if self.loose:
            shape = with_side(shape, direction, mark)
        return Pile(*shape, direction, mark, stacks)

    def _stroke(self, pile: Pile, column: int) -> None:
        """Count what `column` cuts in `pile`."""
        self.laid[column] = self.laid.get(column, 0.0) + 1.0
        terms = self._piles[pile]
        terms[column] = terms.get(column, 0.0) + 1.0

    def _leave(self, shape: Shape, terms: Mapping[int, float]) -> None:
        """Count what of a sheet is left over in that shape."""
        left = self._left[shape]
        for column, times in terms.items():
            left[column] = left.get(column, 0.0) + times

    def break_circle(self, marks: Sequence[int], given: Collection[Wait]) -> bool:
        """Let a circle of marks, each waiting for the one before, cost one more setting.

        `given`: those that wait so whatever is decided here. False where no cut of the program
        waits so, and nothing is gained.
        """
        circle = list(zip(marks, (*marks[1:], marks[0]), strict=True))
        open_waits = [wait for wait in circle if wait not in given]
        if not open_waits or not all(wait in self.mark_waits for wait in open_waits):
            return False
        row = {self._waiting_column(wait, self.mark_waits[wait]): -1.0 for wait in open_waits}
        row.update((self._again(mark), 1.0) for mark in marks)
        self.program.add_row(1 - len(open_waits), row)
        return True

    @cached_property
    def mark_waits(self) -> Mapping[Wait, Terms]:
        """The cuts at a mark that wait for one at another, whichever way those are made."""
        found: dict[Wait, Terms] = defaultdict(dict)
        for ((before, _), (after, _)), terms in self._waits.items():
            if before != after:
                found[before, after].update(terms)
        return found

    def cut_at(self, mark: int) -> Iterator[int]:
        """The columns that cut at a mark."""
        for pile, terms in self._piles.items():
            if pile.mark == mark:
                yield from terms

    def beyond_marks(self, answer: MilpResult) -> set[int]:
        """The columns of marks that an answer does not set, and of the cuts at them."""
        unset = {mark for mark, column in self.marks.items() if not answer.whole(column)}
        cuts = {column for mark in unset for column in self.cut_at(mark)}
        return cuts | {self.marks[mark] for mark in unset}

    def knows(self, wait: SettingWait) -> bool:
        """Whether some cut of the program waits so."""
        return wait in self._waits

    def charge_order(
        self, waits: Collection[SettingWait], given: Collection[SettingWait], pace: Pace
    ) -> None:
        """Let settings that wait so cost what any order of them does (`setting_waits`)."""
        cost = order_cost(waits, pace)
        open_waits = [wait for wait in waits if wait not in given]
        row = {self._waiting_column(wait, self._waits[wait]): -float(cost) for wait in open_waits}
        marks = {mark for wait in waits for mark, _ in wait}
        row.update((self._again(mark), float(pace.setting)) for mark in sorted(marks))
        row.update(dict.fromkeys(self.turns, float(pace.turn)))
        self.program.add_row(cost * (1 - len(open_waits)), row)

    def _again(self, mark: int) -> int:
        """The column that says how often the mark is set once more."""
        if mark not in self.again:
            self.again[mark] = self.program.add_column()
            if mark in self._turned:  # set twice, it may lie the other way the second time
                self.program.add_term(self._turned[mark], self.again[mark], 1.0)
        return self.again[mark]

    def _waiting_column(self, wait: Wait | SettingWait, cuts: Terms) -> int:
        if wait not in self._waiting:
            column = self._waiting[wait] = self.program.add_column(high=1)
            self.program.add_row(0, {column: float(self._most), **dict.fromkeys(cuts, -1.0)})
        return self._waiting[wait]

    def _add_pile(self, pile: Pile, terms: Terms) -> None:
        column = self.strokes[pile] = self.program.add_column()
        self.program.add_row(0, {column: pile.stacks.at_once, **{c: -n for c, n in terms.items()}})
        if pile.mark not in self.marks:
            self.marks[pile.mark] = self.program.add_column(high=1)
        ceiling = math.ceil(min(self._most, self._room[pile]) / pile.stacks.at_once)
        used = self._way(pile) if self.turning else self.marks[pile.mark]
        self.program.add_row(0, {used: ceiling, column: -1})

    def _way(self, pile: Pile) -> int:
        """The column that says whether anything is cut at the pile's mark in its direction."""
        key = pile.mark, pile.direction
        if key not in self._ways:
            self._ways[key] = self.program.add_column(high=1)
            self.program.add_row(0, {self.marks[pile.mark]: 1.0, self._ways[key]: -1.0})
        return self._ways[key]

    def _add_turns(self) -> None:
        """A turn where both directions are cut at all, and one at each mark where both are."""
        turns = self.program.add_column()
        self.turns = {turns: 1.0}
        both = {way: self.program.add_column(high=1) for way in Direction}
        for (_, way), used in self._ways.items():
            self.program.add_row(0, {both[way]: 1.0, used: -1.0})
        self.program.add_row(-1, {turns: 1.0, **dict.fromkeys(both.values(), -1.0)})
        at_marks: Terms = {}
        for mark, was_set in self.marks.items():
            ways = [self._ways[mark, way] for way in Direction if (mark, way) in self._ways]
            if len(ways) == len(Direction):
                turned = self.program.add_column(high=1)
                at_marks[turned] = -1.0
                row = {turned: 1.0, was_set: 1.0, **dict.fromkeys(ways, -1.0)}
                self._turned[mark] = self.program.add_row(0, row)
        self.program.add_row(0, {turns: 1.0, **at_marks})

    def add_offcuts(self, keeps: Callable[[Shape], bool]) -> None:
        """Let one leftover be kept as the offcut, of those that `keeps` says are worth it."""
        for shape in sorted(filter(keeps, self._left)):
            column = self.offcuts[shape] = self.program.add_column(high=1)
            self.program.add_row(0, {**self._left[shape], column: -1.0})
        if self.offcuts:
            self.program.add_row(0, dict.fromkeys(self.offcuts.values(), 1.0), 1)

    # Figures: what one may be minimised after the other

    def seconds(self, pace: Pace) -> Terms:
        """The time at the table; turns are left out unless they were asked for."""
        terms = {column: pace.sheet * times for column, times in self.laid.items()}
        terms.update(dict.fromkeys(self.strokes.values(), float(pace.stroke)))
        settings = (*self.marks.values(), *self.again.values())
        terms.update(dict.fromkeys(settings, float(pace.setting)))
        terms.update(dict.fromkeys(self.turns, float(pace.turn)))
        return terms

    def every_setting(self) -> Terms:
        """How often the guide is set."""
        return dict.fromkeys((*self.marks.values(), *self.again.values()), 1.0)

    def every_stroke(self) -> Terms:
        """How many strokes are made."""
        return dict.fromkeys(self.strokes.values(), 1.0)

    def offcut_area(self) -> Terms:
        """The area of the offcut kept, as less than nothing: the larger the better."""
        return {column: -float(w * h) for (w, h), column in self.offcuts.items()}

    def fitted(self) -> Terms:
        """The pieces cut only if they fit, as less than nothing."""
        return {column: -times for column, times in self.wanted.items()}

    def flow(self, answer: MilpResult) -> Flow:
        """What of an answer says how the sheets are cut: the same in all models of these parts."""
        columns = (column for network in self._networks for column in network.columns)
        return {column: times for column in columns if (times := answer.whole(column))}

    def known_flow(self) -> Flow | None:
        """The flow of the cuttings known; None where one is not within the graphs."""
        found: Counter[int] = Counter()
        for network in self._networks:
            flow = network.known_flow()
            if flow is None:
                return None
            found += flow
        return found

    def completed(self, flow: Flow, figure: Terms, watch: Watch) -> MilpResult:
        """Sheets cut as in `flow`, at their best in a figure.

        Raises:
            Cancelled: the watch stopped it.
        """
        self.program.set_objective(figure)
        columns = (column for network in self._networks for column in network.columns)
        return self.program.held({column: flow.get(column, 0) for column in columns}).solve(watch)

    def layouts(self, answer: MilpResult) -> list[tuple[Layout, ...]]:
        """The answer's sheets as trees, part by part."""
        found: dict[int, list[Layout]] = {id(part): [] for part in self.parts}
        for network in self._networks:
            found[id(network.part)] += network.layouts(answer)
        return [tuple(found[id(part)]) for part in self.parts]


def _with_margin(source: Source) -> Shape:
    """The shape of the whole sheet, printed strip and all."""
    left, margin = (source.width, source.height), source.margin
    if margin is None:
        return left
    return with_side(left, margin.direction, along(left, margin.direction) + margin.width)
