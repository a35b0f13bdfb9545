"""One group at the table: the graphs of its cuts, and the way from merged papers to its own."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from workbench.craft.wish import Wish
from workbench.planning.instance.instance import Subproblem
from workbench.planning.layouts.tree import Layout, Node
from workbench.planning.layouts.truth import true_layout
from workbench.planning.limits import Reach
from workbench.planning.milp import Milp
from workbench.planning.mixing.card_types import Use
from workbench.planning.progress import Watch
from workbench.planning.sheets.cut_states import CutGraph, TooLargeError
from workbench.planning.sheets.cutting import Cutting, given_out
from workbench.planning.sheets.paper_network import GraphedGroup, Terms, networks_of
from workbench.planning.sheets.pattern_milp import pieces_of
from workbench.planning.sheets.search import SheetSearch
from workbench.planning.sheets.table_rounds import Layouts, Rounds, Solved, TableTask
from workbench.planning.sheets.true_graph import cut_graph, graph_of
from workbench.planning.sheets.unrolling import wanted_shapes

Graphs = Mapping[tuple[str, int], CutGraph]


@dataclass
class GroupTable:
    """One group at the table: its graphs, and the way from merged papers back to its own.

    `alone`: nothing of any other group is cut.
    """

    search: SheetSearch
    cutting: Cutting
    task: TableTask
    alone: bool
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
        group = self.search.likes.merged
        return GraphedGroup(group, self._graphs(group), self.cutting.sheets)

    def knowing(self, cutting: Cutting) -> GraphedGroup:
        """The group with like papers as one, and how its own papers are known to be cut."""
        likes = self.search.likes
        known = tuple(
            replace(layout, paper=likes.alike[likes.kind(layout.paper)][0].paper)
            for layout in cutting.layouts
        )
        return replace(self.merged, known=known)

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

    def _graphs(self, group: Subproblem) -> Graphs:
        """The largest graphs that are not too large, with what the cutting found is made of."""
        if not group.items:  # all was wanted only if it fitted, and nothing did
            return {}
        limits = self.task.watch.limits
        deep = self._within(group, limits.deep_rows)
        few = group.pieces <= limits.few_pieces
        reach = limits.every_cut_of_few if few else limits.every_cut
        tiny = deep and _size(deep) <= limits.tiny_arcs
        if (few or tiny) and (every := self._within(group, reach)):
            return every
        blade = self.search.group.trimmer
        priced = [true_layout(root, blade) for root in self.search.bound.used()]
        found = self._graphs_of(group, [layout.root for layout in self.fallback.layouts] + priced)
        too_poor: list[Graphs] = []
        for graphs in filter(None, self._of_rows(group, deep)):
            if self._possible(group, graphs):
                return _joined(graphs, found)
            too_poor.append(graphs)
        self.complete = False
        return _joined(too_poor[0], found) if too_poor else found

    def _of_rows(self, group: Subproblem, deep: Graphs) -> Iterator[Graphs]:
        limits = self.task.watch.limits
        if _size(deep) <= limits.deep_arcs:
            yield deep
        yield self._rows(group, 1) or self._rows(group, limits.rows_of_many)

    def _rows(self, group: Subproblem, times: int) -> Graphs:
        """Rows, pieces and trims, and rows cut on; `times`: as large as they may be."""
        limits = self.task.watch.limits
        rows, turned = (
            self._within(group, replace(reach, most=times * reach.most))
            for reach in (limits.true_rows, limits.turned_rows)
        )
        return _joined(rows, turned)

    def _within(self, group: Subproblem, reach: Reach) -> Graphs:
        """The graphs of every source; none where one is too large.

        Where turns will be counted, it matters which way a square sheet is begun beside others.
        """
        limits = self.task.watch.limits
        few = group.pieces <= limits.few_pieces
        try:
            found = self._whole_graphs(group, reach, either=False)
            if self._single or not (few or _size(found) <= limits.turning_arcs):
                return found
            either = self._whole_graphs(group, reach, either=True)
        except TooLargeError:
            return {}
        return either if few or _size(either) <= limits.turning_arcs else found

    @property
    def _single(self) -> bool:
        """Whether one sheet is all that is cut."""
        sources = (one for supply in self.search.group.supplies for one in supply.sources)
        return self.alone and self.cutting.sheets <= 1 and all(one.cost for one in sources)

    def _whole_graphs(self, group: Subproblem, reach: Reach, *, either: bool) -> Graphs:
        """`either`: square sheets are begun either way, though their parts may be turned."""
        return {
            (supply.paper, number): cut_graph(
                (source.width, source.height),
                wanted_shapes(group, supply),
                reach,
                group.trimmer,
                turning=supply.turns and not either,
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

    @property
    def _of_each(self) -> Graphs:
        """The graphs of merged papers, for each of the papers."""
        return {
            (supply.paper, number): self.merged.graphs[alike[0].paper, number]
            for alike in self.search.likes.alike
            for supply in alike
            for number in range(len(supply.sources))
            if (alike[0].paper, number) in self.merged.graphs
        }

    def _possible(self, group: Subproblem, graphs: Graphs) -> bool:
        program = Milp()
        networks_of(GraphedGroup(group, graphs, self.cutting.sheets), program)
        return program.solve_relaxation(self.task.watch).verdict != "infeasible"

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
        return shared_out(self.search, merged, self.task.watch)

    def _apart(self, merged: Layouts, wish: Wish, others: Sequence[Layouts]) -> Layouts | None:
        """Each paper cut on its own: as the merged ones were, then in any way they could be."""
        roots = [layout.root for layout in (*merged, *self.fallback.layouts)]
        group = self.search.group
        known = self._graphs_of(group, roots)
        tried = [known]
        if _size(self._of_each) <= self.task.watch.limits.apart_arcs:
            tried.append(_joined(self._of_each, known))
        best: Solved | None = None
        for graphs in tried:
            begun = best.layouts[0] if best else self.fallback.layouts
            part = GraphedGroup(group, graphs, self.cutting.sheets, begun)
            solved = Rounds(self.task, [part], wish, joined(others)).solved()
            if solved and (best is None or solved.figures.rank(wish) < best.figures.rank(wish)):
                best = solved
        return best.layouts[0] if best else None


def shared_out(search: SheetSearch, merged: Layouts, watch: Watch) -> Layouts | None:
    """Layouts of merged papers given out to the group's own; None where its rules forbid it."""
    group, likes = search.group, search.likes
    program = Milp()
    columns: dict[tuple[int, str, int], int] = {}
    for number, layout in enumerate(merged):
        row: Terms = {}
        for supply in likes.alike[likes.kind(layout.paper)]:
            for which, source in enumerate(supply.sources):
                if source.like(layout.source):
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


def _size(graphs: Graphs) -> int:
    """How many arcs all have."""
    return sum(graph.size for graph in graphs.values())


def _joined(graphs: Graphs, others: Graphs) -> Graphs:
    return {
        key: graphs.get(key, CutGraph()) | others.get(key, CutGraph())
        for key in dict.fromkeys((*graphs, *others))
    }


def joined(others: Iterable[Layouts]) -> Layouts:
    """The layouts of several groups in one."""
    return tuple(layout for layouts in others for layout in layouts)
