"""The least time at the table, once it is known how few sheets will do.

The groups share the guide: a mark set for one is set for all, and marks may wait for one another
across groups. Where all is small enough, one model (table_model) holds every group; else the groups
are cut in turn, each knowing what the others set. What the model leaves out, the turns and such
circles of marks as it has not met, is counted on the finished order of the cuts (`measure`): the
model is asked again with the circles that were met, and the best of all that was found is taken.
"""

import logging
import math
import random
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

from workbench.craft.pace import Pace
from workbench.craft.wish import Wish
from workbench.planning.instance.instance import Subproblem
from workbench.planning.layouts.tree import Layout, Node, marks_of
from workbench.planning.layouts.truth import true_layout
from workbench.planning.limits import Reach
from workbench.planning.milp import NEARLY, Milp, MilpResult
from workbench.planning.mixing.card_types import Use
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape
from workbench.planning.sheets.cut_states import CutGraph, TooLargeError
from workbench.planning.sheets.mark_circles import circles, waits_of
from workbench.planning.sheets.pattern_milp import pieces_of
from workbench.planning.sheets.search import Cutting, SheetSearch, given_out
from workbench.planning.sheets.table_model import GraphedGroup, Stacks, TableModel, Terms, nothing
from workbench.planning.sheets.true_graph import cut_graph, graph_of
from workbench.planning.sheets.unrolling import wanted_shapes

Layouts = tuple[Layout, ...]
Graphs = Mapping[tuple[str, int], CutGraph]
_LOG = logging.getLogger(__name__)


class TableFigures(NamedTuple):
    """What a finished order of cuts takes: seconds, settings, strokes; and the offcut it leaves.

    `offcut` is the area of the largest, in square units of the instance.
    """

    seconds: int
    settings: int
    strokes: int
    offcut: int

    def rank(self, wish: Wish) -> tuple[int, ...]:
        """The less, the better the wish is served; then the less time and the larger offcut."""
        first = {
            "time": self.seconds,
            "settings": self.settings,
            "strokes": self.strokes,
            "offcut": -self.offcut,
        }
        return first[wish], self.seconds, -self.offcut


Measure = Callable[[Sequence[Layout]], TableFigures]


@dataclass(frozen=True, slots=True)
class Timed:
    """Cuttings of all groups, what they take, and what is ruled out.

    For true cuttings in rows, of these pieces and sheets, less than `least` seconds are ruled out
    (turns left out), and fewer than `fewest_marks` marks; None where that is not known.
    """

    cuttings: tuple[Cutting, ...]
    figures: TableFigures
    least: int | None = None
    fewest_marks: int | None = None


@dataclass
class TableSearch:
    """Looks for the cuttings of least time; `searches` and `cuttings` are group by group.

    Attributes:
        stacks: by paper.
        keeps: whether a leftover of that shape is worth keeping as an offcut.
        measure: what layouts take once they are put in order.
    """

    searches: Sequence[SheetSearch]
    cuttings: Sequence[Cutting]
    stacks: Mapping[str, Stacks]
    pace: Pace
    keeps: Callable[[Shape], bool]
    measure: Measure
    watch: Watch

    def best(self, wish: Wish = "time") -> Timed:
        """The cuttings best at the wish, then in time, then in the offcut they keep.

        Raises:
            Cancelled: the watch stopped it.
        """
        self.watch.stage("looking for the least time at the table")
        found = [self._timed([group.fallback for group in self.groups])]
        size = sum(group.size for group in self.groups)
        if len(self.groups) == 1 or size <= self.watch.limits.joint_arcs:
            found.append(self._together(wish))
        else:
            found.append(self._in_turn(wish))
        best = min(found, key=lambda timed: timed.figures.rank(wish))
        proof = found[-1]
        return replace(best, least=proof.least, fewest_marks=proof.fewest_marks)

    @cached_property
    def groups(self) -> list["_GroupTable"]:
        """Each group with its graphs."""
        return [
            _GroupTable(search, cutting, self)
            for search, cutting in zip(self.searches, self.cuttings, strict=True)
        ]

    def _timed(self, cuttings: Sequence[Cutting]) -> Timed:
        layouts = [layout for cutting in cuttings for layout in cutting.layouts]
        return Timed(tuple(cuttings), self.measure(layouts))

    def _together(self, wish: Wish) -> Timed:
        rounds = self.rounds([group.merged for group in self.groups], wish, ())
        solved = rounds.solved()
        if solved is None:
            return self._timed([group.fallback for group in self.groups])
        timed = self._among_papers(solved, wish)
        if roomier := rounds.roomier():
            timed = _better(timed, self._among_papers(roomier, wish), wish)
        if not all(group.complete for group in self.groups):
            return timed
        return replace(timed, least=solved.least, fewest_marks=solved.fewest_marks)

    def _among_papers(self, solved: "Solved", wish: Wish) -> Timed:
        cuttings = []
        for number, (group, layouts) in enumerate(zip(self.groups, solved.layouts, strict=True)):
            others = solved.layouts[:number] + solved.layouts[number + 1 :]
            cuttings.append(group.among_papers(layouts, wish, others))
        return self._timed(cuttings)

    def _in_turn(self, wish: Wish) -> Timed:
        cuttings = [group.fallback for group in self.groups]
        last: dict[int, _Rounds] = {}
        for turn in range(self.watch.limits.table_passes):
            for number, group in enumerate(self.groups):
                others = [
                    one.layouts
                    for n, one in enumerate(cuttings)
                    if n != number and (turn or n < number)
                ]
                if turn and not group.gains_from(others, cuttings[number].layouts):
                    continue
                rounds = self.rounds([group.merged], wish, others)
                solved = rounds.solved()
                if solved is None:
                    continue
                last[number] = rounds
                cuttings[number] = group.among_papers(solved.layouts[0], wish, others)
        timed = replace(self._timed(cuttings), least=self._least_of_all(wish))
        return self._roomier(timed, last, wish)

    def _roomier(self, timed: Timed, last: "Mapping[int, _Rounds]", wish: Wish) -> Timed:
        """The same with a larger offcut, where some group can leave one in no more time."""
        for number, rounds in last.items():
            roomier = rounds.roomier()
            if roomier is None:
                continue
            others = [one.layouts for n, one in enumerate(timed.cuttings) if n != number]
            cuttings = list(timed.cuttings)
            cuttings[number] = self.groups[number].among_papers(roomier.layouts[0], wish, others)
            timed = _better(timed, self._timed(cuttings), wish)
        return timed

    def _least_of_all(self, wish: Wish) -> int | None:
        """What no cutting of all groups goes below; None where that is too much to work out."""
        if wish != "time" or not all(group.complete for group in self.groups):
            return None
        return self.rounds([group.merged for group in self.groups], wish, ()).least_of_all_orders()

    def rounds(
        self, parts: Sequence[GraphedGroup], wish: Wish, others: Sequence[Layouts]
    ) -> "_Rounds":
        """The model of `parts` to be asked, where `others` are cut anyhow."""
        return _Rounds(self, parts, wish, [layout for layouts in others for layout in layouts])


def _better(one: Timed, other: Timed, wish: Wish) -> Timed:
    """The better of the two, with what is ruled out by the first."""
    if other.figures.rank(wish) < one.figures.rank(wish):
        return replace(one, cuttings=other.cuttings, figures=other.figures)
    return one


@dataclass(frozen=True, slots=True)
class Solved:
    """The layouts of each part, and what the model does not go below, where that is known."""

    layouts: list[Layouts]
    figures: TableFigures
    least: int | None = None
    fewest_marks: int | None = None


@dataclass
class _Rounds:
    """Asks one model again and again, each time with the circles of marks met so far.

    `given` layouts are cut anyhow, so that their marks are set and their cuts wait.
    """

    search: TableSearch
    parts: Sequence[GraphedGroup]
    wish: Wish
    given: Sequence[Layout]
    best: Solved | None = None
    least: int | None = None
    fewest_marks: int | None = None

    def __post_init__(self) -> None:
        self._waits = waits_of(layout.root for layout in self.given)
        self._set = {mark for layout in self.given for mark in marks_of(layout.root)}
        self._circles: list[tuple[int, ...]] = []
        self._answer: MilpResult | None = None
        self._stacking = any(stacks.at_once > 1 for stacks in self.search.stacks.values())
        graphs = (graph for part in self.parts for graph in part.graphs.values())
        self._arcs = sum(graph.size for graph in graphs)
        limits = self.search.watch.limits
        self._few = sum(_pieces(part.group) for part in self.parts) <= limits.few_pieces
        self._turning = self._few or self._arcs <= limits.turning_arcs
        self._model = self._modelled(offcuts=self.wish == "offcut")
        self._give(self._model)

    def _modelled(self, *, offcuts: bool, loose: bool = False) -> TableModel:
        keeps = self.search.keeps if offcuts else nothing
        stacks = self.search.stacks
        return TableModel(self.parts, stacks, keeps, turning=self._turning, loose=loose)

    def _give(self, model: TableModel) -> None:
        for mark in self._set & model.marks.keys():
            model.program.lows[model.marks[mark]] = 1

    def solved(self) -> Solved | None:
        """The best answer of all rounds; None where there is none. Raises Cancelled."""
        for _ in range(self.search.watch.limits.circle_rounds):
            rows = len(self._model.program.rows)
            answer = self._lexicographic()
            if answer is None:
                break
            layouts = self._take(self._model, answer)
            del self._model.program.rows[rows:]
            if not self._circles_met(layouts):
                break
        if self._few and self.wish == "time":
            self._look_at_others()
        if self._stacking:
            self.least = self.least and self.least_of_all_orders()
        return self.best and replace(self.best, least=self.least, fewest_marks=self.fewest_marks)

    def _look_at_others(self) -> None:
        """Draw other answers that the model thinks quicker than the best is, once it is ordered.

        Where there is none, the best is the least that is possible.
        """
        draw = random.Random(len(self._model.laid))
        watch, program = self.search.watch, self._model.program
        seconds, rows = self._model.seconds(self.search.pace), len(program.rows)
        for _ in range(watch.limits.other_answers):
            if self.best is None or self.best.figures.seconds <= (self.least or 0):
                break
            program.add_row(-math.inf, seconds, self.best.figures.seconds - 1 + NEARLY)
            program.set_objective({column: draw.random() for column in self._model.laid})
            found = program.solve(watch, watch.limits.other_effort)
            del program.rows[rows:]
            if found.verdict == "infeasible":
                self.least = self.best.figures.seconds
            if not found.found:
                break
            self._circles_met(self._take(self._model, found))
            rows = len(program.rows)

    def least_of_all_orders(self) -> int | None:
        """What no order of the cuts goes below, however well it stacks; None where not looked."""
        watch = self.search.watch
        if self._arcs > watch.limits.least_arcs:
            return None
        model = self._modelled(offcuts=False, loose=True)
        self._give(model)
        for circle in self._circles:
            model.break_circle(circle, self._waits)
        model.program.set_objective(model.seconds(self.search.pace))
        found = model.program.solve(watch, watch.limits.least_effort)
        return math.ceil(found.bound - NEARLY) if found.found else None

    def _take(self, model: TableModel, answer: MilpResult) -> list[Layouts]:
        """Keep the answer, if it is the best so far."""
        layouts = model.layouts(answer)
        mine = [layout for part in layouts for layout in part]
        figures = self.search.measure([*self.given, *mine])
        if self.best is None or figures.rank(self.wish) < self.best.figures.rank(self.wish):
            self.best, self._answer = Solved(layouts, figures), answer
        return layouts

    def _circles_met(self, layouts: list[Layouts]) -> bool:
        """Whether there are circles that the model knew nothing of; it does then."""
        roots = [layout.root for part in layouts for layout in part]
        met = [one for one in circles(waits_of(roots) | self._waits) if one not in self._circles]
        self._circles += met
        broken = [self._model.break_circle(circle, self._waits) for circle in met]
        return any(broken)

    def _lexicographic(self) -> MilpResult | None:
        """An answer that is best in one figure after the other; each is held to from then on."""
        watch, answer = self.search.watch, self._answer
        for number, figure in enumerate(self._figures()):
            self._model.program.set_objective(figure)
            found = self._model.program.solve(watch, watch.limits.table_effort, answer)
            _LOG.debug("table model: %s, %s of at least %s", self.wish, found.value, found.bound)
            if not found.found:
                return None
            answer = found
            if number == bool(self._model.wanted):
                self._bounded(math.ceil(found.bound - NEARLY))
            self._model.program.add_row(-math.inf, figure, found.value + NEARLY)
        return answer

    def _bounded(self, bound: int) -> None:
        """Keep what the first figure wished for does not go below."""
        if self.wish == "time":
            self.least = max(self.least or 0, bound)
        elif self.wish == "settings":
            self.fewest_marks = max(self.fewest_marks or 0, bound)

    def _figures(self) -> list[Terms]:
        first: dict[Wish, list[Terms]] = {
            "time": [],
            "settings": [self._model.every_setting()],
            "strokes": [self._model.every_stroke()],
            "offcut": [self._model.offcut_area()] if self._model.offcuts else [],
        }
        wanted = [self._model.fitted()] if self._model.wanted else []
        return [*wanted, *first[self.wish], self._model.seconds(self.search.pace)]

    def roomier(self) -> Solved | None:
        """The best answer once more, with the largest offcut found that takes no more time."""
        before, answer, watch = self.best, self._answer, self.search.watch
        if self.wish == "offcut" or before is None or answer is None:
            return None
        model = self._modelled(offcuts=True)
        if not model.offcuts:
            return None
        known = len(model.program.costs) - len(model.offcuts)
        self._give(model)
        for circle in self._circles:
            model.break_circle(circle, self._waits)
        model.program.add_row(-math.inf, model.seconds(self.search.pace), answer.value + NEARLY)
        model.program.set_objective(model.offcut_area())
        start = replace(answer, values=answer.values[:known])
        found = model.program.solve(watch, watch.limits.offcut_effort, start)
        if found.found:
            self._take(model, found)
        return self.best if self.best is not before else None


@dataclass
class _GroupTable:
    """One group at the table: its graphs, and the way from merged papers back to its own."""

    search: SheetSearch
    cutting: Cutting
    table: TableSearch
    complete: bool = field(default=True, init=False)

    @cached_property
    def fallback(self) -> Cutting:
        """The cutting as it was found, made true."""
        blade = self.search.group.trimmer
        layouts = (
            replace(layout, root=true_layout(layout.root, blade)) for layout in self.cutting.layouts
        )
        return replace(self.cutting, layouts=tuple(layouts))

    @cached_property
    def merged(self) -> GraphedGroup:
        """The group with like papers as one."""
        return GraphedGroup(
            self.search.likes.merged, self._graphs(self.search.likes.merged), self.cutting.sheets
        )

    @property
    def size(self) -> int:
        return _size(self.merged.graphs)

    @cached_property
    def candidate_marks(self) -> frozenset[int]:
        """Every mark that its graphs cut at."""
        return frozenset(
            arc.mark
            for graph in self.merged.graphs.values()
            for arcs in graph.arcs.values()
            for arc in arcs
            if arc.mark
        )

    def gains_from(self, others: Sequence[Layouts], own: Layouts) -> bool:
        """Whether others set a mark that could serve this group and that it does not set itself."""
        mine = {mark for layout in own for mark in marks_of(layout.root)}
        return any(
            mark in self.candidate_marks and mark not in mine
            for layouts in others
            for layout in layouts
            for mark in marks_of(layout.root)
        )

    def _graphs(self, group: Subproblem) -> Graphs:
        """The largest graphs that are not too large, with what the cutting found is made of."""
        found = self._graphs_of(group, [layout.root for layout in self.fallback.layouts])
        limits = self.table.watch.limits
        rows = (limits.true_rows, limits.turned_rows)
        for reaches in ((limits.deep_rows,), rows):
            graphs: Graphs = {}
            for reach in reaches:
                with suppress(TooLargeError):
                    graphs = _joined(graphs, self._whole_graphs(group, reach))
            few = _pieces(group) <= limits.few_pieces
            if reaches != rows and (few or _size(graphs) <= limits.tiny_arcs):
                with suppress(TooLargeError):
                    return self._whole_graphs(group, limits.every_cut)
            if reaches != rows and _size(graphs) > limits.deep_arcs:
                continue
            if graphs and self._possible(group, graphs):
                return _joined(graphs, found)
        self.complete = False
        return found

    def _whole_graphs(self, group: Subproblem, reach: Reach) -> Graphs:
        return {
            (supply.paper, number): cut_graph(
                (source.width, source.height),
                wanted_shapes(group, supply),
                reach,
                group.trimmer,
                turning=supply.turns,
            )
            for supply in group.supplies
            for number, source in enumerate(supply.sources)
            if source.available
        }

    def _graphs_of(self, group: Subproblem, roots: Sequence[Node]) -> Graphs:
        return {
            (supply.paper, number): graph_of(
                [root for root in roots if root.shape == (source.width, source.height)],
                wanted_shapes(group, supply),
            )
            for supply in group.supplies
            for number, source in enumerate(supply.sources)
            if source.available
        }

    def _possible(self, group: Subproblem, graphs: Graphs) -> bool:
        part = GraphedGroup(group, graphs, self.cutting.sheets)
        model = TableModel([part], self.table.stacks, lambda _: False)
        return model.program.solve_relaxation(self.table.watch).verdict != "infeasible"

    def among_papers(self, merged: Layouts, wish: Wish, others: Sequence[Layouts]) -> Cutting:
        """The cutting for the group's own papers, from the layouts of merged ones."""
        shared = self._shared(merged)
        if shared is None:
            shared = self._apart(merged, wish, others)
        return self.fallback if shared is None else replace(self.cutting, layouts=shared)

    def _shared(self, merged: Layouts) -> Layouts | None:
        likes = self.search.likes
        if not likes.several:
            return merged
        if likes.free:
            return given_out(likes, merged)
        return shared_out(self.search, merged, self.table.watch)

    def _apart(self, merged: Layouts, wish: Wish, others: Sequence[Layouts]) -> Layouts | None:
        """Each paper cut on its own, into what the merged ones were cut into or came from."""
        known = [layout.root for layout in (*merged, *self.fallback.layouts)]
        group = self.search.group
        part = GraphedGroup(group, self._graphs_of(group, known), self.cutting.sheets)
        solved = self.table.rounds([part], wish, others).solved()
        return solved.layouts[0] if solved else None


def shared_out(search: SheetSearch, merged: Layouts, watch: Watch) -> Layouts | None:
    """Layouts of merged papers given out to the group's own; None where its rules forbid it."""
    group, likes = search.group, search.likes
    program = Milp()
    columns: dict[tuple[int, str, int], int] = {}
    for number, layout in enumerate(merged):
        row: Terms = {}
        for supply in likes.alike[likes.kind(layout.paper)]:
            for which, source in enumerate(supply.sources):
                if replace(source, available=0) == replace(layout.source, available=0):
                    column = columns[number, supply.paper, which] = program.add_column()
                    row[column] = 1.0
        program.add_row(layout.times, row, layout.times)
    _limit_sources(group, program, columns)
    group.add_dealing_rows(program, _cut_columns(group, program, merged, columns))
    answer = program.solve(watch)
    if not answer.found:
        return None
    supplies = {supply.paper: supply for supply in group.supplies}
    return tuple(
        Layout(paper, supplies[paper].sources[which], merged[number].root, answer.whole(column))
        for (number, paper, which), column in columns.items()
        if answer.whole(column)
    )


def _cut_columns(
    group: Subproblem,
    program: Milp,
    merged: Layouts,
    columns: Mapping[tuple[int, str, int], int],
) -> dict[Use, Terms]:
    """A column for each item and paper: how many are cut, whatever layouts they come from."""
    cut: dict[Use, Terms] = defaultdict(dict)
    counts = [pieces_of(layout.root) for layout in merged]
    for (number, paper, _), column in columns.items():
        for item, count in counts[number].items():
            cut[group.by_id[item].name, paper][column] = float(count)
    found: dict[Use, Terms] = {}
    for use, terms in cut.items():
        counted = program.add_column()
        program.add_row(0, {**terms, counted: -1.0}, 0)
        found[use] = {counted: 1.0}
    return found


def _limit_sources(
    group: Subproblem, program: Milp, columns: Mapping[tuple[int, str, int], int]
) -> None:
    for supply in group.supplies:
        for which, source in enumerate(supply.sources):
            mine = {
                column: 1.0
                for (_, paper, number), column in columns.items()
                if (paper, number) == (supply.paper, which)
            }
            program.add_row(0, mine, source.available)


def _pieces(group: Subproblem) -> int:
    """How many pieces are asked for."""
    return sum(item.copies for item in group.items)


def _size(graphs: Graphs) -> int:
    """How many arcs all have."""
    return sum(graph.size for graph in graphs.values())


def _joined(graphs: Graphs, others: Graphs) -> Graphs:
    return {
        key: graphs.get(key, CutGraph()) | others.get(key, CutGraph())
        for key in dict.fromkeys((*graphs, *others))
    }
