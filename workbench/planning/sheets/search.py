"""The search for one group's cutting: the fewest sheets, then the fewest strokes of the blade."""

import logging
import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

from workbench.planning.bound.column_generation import LinearBound, linear_bound
from workbench.planning.bound.paper_bound import LeastSheets, least_sheets
from workbench.planning.bound.pattern_enumeration import TooManyPatternsError, all_patterns
from workbench.planning.instance.instance import Source, Subproblem
from workbench.planning.instance.stock_classes import PaperClasses, StackedPapers
from workbench.planning.kernel_search import kernel_search
from workbench.planning.layouts.tree import Layout, Node, Stroke, strokes_of
from workbench.planning.limits import Effort, Reach
from workbench.planning.progress import Watch
from workbench.planning.sheets.arc_flow import ArcFlowModel, columns_asked
from workbench.planning.sheets.cut_states import TooLargeError
from workbench.planning.sheets.cutting import Cutting, Layouts, given_out, pieces_in
from workbench.planning.sheets.pattern_milp import (
    NOTHING,
    Sharing,
    SheetCount,
    share_patterns,
    taken,
)
from workbench.planning.sheets.residual_heuristic import ResidualHeuristic

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Allowance:
    """What a cutting may use: sheets, and turns of direction."""

    sheets: int
    reach: Reach


class ShortError(Exception):
    """Raised when the paper on hand cannot serve a group."""


@dataclass(frozen=True)
class SheetSearch:
    """Looks for cuttings of `group`; `stack` is how many sheets of each paper are cut at once."""

    group: Subproblem
    stack: Mapping[str, int]
    watch: Watch

    @cached_property
    def likes(self) -> PaperClasses:
        """The papers that can stand for one another."""
        return PaperClasses(self.group, self.stack)

    @cached_property
    def bound(self) -> LinearBound:
        """How few sheets are possible. Raises Cancelled."""
        return linear_bound(self.group, self.watch)

    def fewest(self) -> Cutting:
        """A cutting into the fewest sheets found. Raises ShortError, Cancelled."""
        fewest = self.least.sheets
        if fewest is None:
            raise ShortError
        sheets = fewest
        while sheets <= self._to_be_had:
            _log.debug("trying %d sheets of %s", sheets, self._papers)
            layouts = self.layouts(sheets) or self._paper_by_paper(sheets)
            if layouts is None:
                exact = self._exact(sheets)
                layouts = self._cut_out(exact, sheets) if exact else None
                if exact and exact.fewest > sheets and fewest == sheets:
                    fewest += 1
            if layouts is not None:
                because = self.least.because if fewest == self.least.sheets else None
                return Cutting(layouts, fewest, because)
            # Where the bound is far below what fillings take, steps of one would lead nowhere.
            far = min(self._alone.fillings.fewest - 1, self._to_be_had)
            sheets = max(sheets + 1, far)
        raise ShortError

    def no_more_than(self, found: Cutting) -> Cutting | None:
        """A cutting with no more sheets than one that is known, and no fewer pieces.

        None where there is none. Raises Cancelled.
        """
        if self.ruled_out or (self.least.sheets or 0) > found.sheets:
            return None
        layouts = self.layouts(found.sheets)
        if layouts is None or pieces_in(layouts) < pieces_in(found.layouts):
            return None
        return replace(found, layouts=layouts)

    @property
    def _papers(self) -> str:
        return ", ".join(supply.paper for supply in self.group.supplies)

    def first(self) -> Cutting | None:
        """A cutting found soon, cut as its layouts were priced; None when there is none soon."""
        bound = self.bound.sheets
        if bound is None:
            return None
        known = self._priced(bound)
        found = share_patterns(
            self.group, known, self._to_be_had, self.watch, self.watch.limits.sharing_effort
        )
        supplies = {supply.paper: supply for supply in self.group.supplies}
        layouts = tuple(
            Layout(
                sheet.paper, supplies[sheet.paper].sources[sheet.source], sheet.root, sheet.times
            )
            for sheet in found.sheets
        )
        return Cutting(layouts, bound) if found.within(self._to_be_had) else None

    @cached_property
    def least(self) -> LeastSheets:
        """The fewest sheets that are possible, whole sheets of each paper."""
        return least_sheets(self.bound, self.watch)

    @property
    def ruled_out(self) -> bool:
        """Whether the bound alone says that the paper on hand cannot serve."""
        return self.least.sheets is None or self.least.sheets > self._to_be_had

    def _paper_by_paper(self, sheets: int) -> Layouts | None:
        """Each paper's share of the bound cut by itself, if that takes no more than `sheets`."""
        if sheets != self.least.sheets or not self.least.shares:
            return None
        try:
            found = [replace(self, group=share).fewest() for share in self.least.shares]
        except ShortError:
            return None
        if sum(cutting.sheets for cutting in found) > sheets:
            return None
        return tuple(layout for cutting in found for layout in cutting.layouts)

    @property
    def _to_be_had(self) -> int:
        """How many sheets there are, all in all."""
        return sum(
            source.available * source.cost
            for supply in self.group.supplies
            for source in supply.sources
        )

    def _exact(self, sheets: int) -> Sharing | None:
        """Whether `sheets` can do at all, by every way to fill one; None if those are too many."""
        self.watch.stage("making sure that fewer sheets cannot do")
        try:
            ways = all_patterns(self.refined, sheets, self.watch)
        except TooManyPatternsError:
            _log.debug("too many ways to fill a sheet of %s: no proof", self._papers)
            return None
        return share_patterns(self.group, ways, sheets, self.watch, self.watch.limits.exact_effort)

    @cached_property
    def refined(self) -> LinearBound:
        """The bound with its prices as good as they get."""
        return linear_bound(self.group, self.watch, known=self.bound.patterns)

    def layouts(self, sheets: int) -> Layouts | None:
        """The layouts found with the fewest strokes within `sheets`."""
        if self._alone is not self:
            alone = self._alone.layouts(sheets)
            return None if alone is None else given_out(self.likes, alone)
        self.watch.stage("looking for the fewest cuts")
        tried = [self._whole(Allowance(sheets, reach)) for reach in self.reaches]
        found = [layouts for layouts in tried if layouts is not None]
        if found:
            return min(found, key=lambda layouts: (-pieces_in(layouts), self.strokes(layouts)))
        return self._pooled((), sheets)

    @cached_property
    def _alone(self) -> "SheetSearch":
        """The search with like papers as one, where nothing else tells them apart."""
        if self.likes.free and self.likes.several:
            return replace(self, group=self.likes.merged)
        return self

    @cached_property
    def fillings(self) -> ResidualHeuristic:
        """Whole cuttings found sheet by sheet, made when first asked for. Raises Cancelled."""
        return ResidualHeuristic(self.refined, self.watch)

    @cached_property
    def _merged_blocks(self) -> list[StackedPapers]:
        """Papers that are alike as one, each such paper cut on its own."""
        return [StackedPapers((supply,)) for supply in self.likes.merged.supplies]

    @cached_property
    def reaches(self) -> tuple[Reach, ...]:
        """Deeper cuttings last, where there are few: they hardly ever save a cut."""
        merged, blocks, limits = self.likes.merged, self._merged_blocks, self.watch.limits
        try:
            columns = columns_asked(merged, blocks, limits.rows)
        except TooLargeError:
            return (limits.strict,)
        if columns > limits.deeper_columns:
            return (limits.rows,)
        try:
            columns_asked(merged, blocks, limits.deeper)
        except TooLargeError:
            return (limits.rows,)
        return (limits.rows, limits.deeper)

    def _whole(self, limits: Allowance) -> Layouts | None:
        """What one integer program of the whole group leads to.

        Like papers are cut alike if they can be, since stacked they cost one paper's strokes.
        """
        several = self.likes.several
        # Only here are wanted pieces fitted in: the layouts priced for what is needed have none.
        wanted = any(item.least < item.copies for item in self.group.items)
        most = self.watch.limits.columns_wanted if wanted else self.watch.limits.columns
        if not several:
            return self._solved(
                self.likes.merged, self._merged_blocks, limits, self.watch.limits.effort, most
            )
        all_alike, *less_alike = self.likes.partitions(self.watch.limits.partitions)
        found = self._apart(all_alike, limits)
        if found is None:
            merged = self._solved(
                self.likes.merged, self._merged_blocks, limits, self.watch.limits.rough_effort, most
            )
            if merged is None:
                return None
            found = self._pooled(merged, limits.sheets)
        for blocks in less_alike:
            if found is None:
                found = self._apart(blocks, limits)
        return found

    def _apart(self, blocks: list[StackedPapers], limits: Allowance) -> Layouts | None:
        most = self.watch.limits.columns_apart
        return self._solved(self.group, blocks, limits, self.watch.limits.effort, most)

    def _solved(
        self,
        group: Subproblem,
        blocks: Sequence[StackedPapers],
        limits: Allowance,
        effort: Effort,
        most: int,
    ) -> Layouts | None:
        try:
            cutting = _asked(group, blocks, limits, most)
        except TooLargeError:
            _log.debug("the model of %s has over %d columns: left out", self._papers, most)
            return None
        if wanted := cutting.wanted():  # strokes are bettered later, at the table
            cutting.program.set_objective({column: -copies for column, copies in wanted.items()})
            answer = cutting.program.solve(self.watch, replace(effort, gap=0.0))
            if answer.verdict == "stopped" and not answer.found:
                answer = cutting.program.solve(self.watch, self.watch.limits.last_effort)
        else:
            cutting.program.set_objective(
                {column: self._weight(copies) for column, copies in cutting.cuts.items()}
            )
            search = partial(
                kernel_search,
                cutting.program,
                cutting.cuts,
                self.watch,
                effort,
                self.watch.limits.sheet_buckets,
            )
            answer = search()
            if answer.verdict == "infeasible":
                return None
            if not answer.found and (also := self._known(cutting, limits.sheets)):
                answer = search(also=also)
            if not answer.found:
                answer = cutting.program.solve(self.watch, effort)
        _log.debug("the model of %s: %s, %g (bound %g)", self._papers, *answer.summary)
        return cutting.layouts(answer) if answer.found else None

    def _known(self, cutting: ArcFlowModel, sheets: int) -> set[int]:
        """The columns of a model that cut sheets as they were priced, put together to serve."""
        if self.likes.several or cutting.group is not self.likes.merged:
            return set()
        return cutting.columns_of(self._pooled((), sheets) or ())

    def _weight(self, copies: int) -> int:
        at_once = max(self.stack.values()) if copies > 1 else 1
        return math.ceil(copies / at_once)

    def strokes(self, layouts: Sequence[Layout]) -> int:
        """The strokes of the blade when rectangles that are cut alike are stacked."""
        alike: Counter[tuple[int, Stroke | Source]] = Counter()
        for layout in layouts:
            at_once = self.stack[layout.paper]
            if layout.source.margin:
                alike[at_once, replace(layout.source, available=0)] += layout.times
            for stroke in strokes_of(layout.root):
                alike[at_once, stroke] += layout.times
        return sum(math.ceil(count / at_once) for (at_once, _), count in alike.items())

    def _pooled(self, merged: Layouts, sheets: int) -> Layouts | None:
        """The merged group's layouts, and the bound's, shared among the papers themselves."""
        known = [layout.root for layout in merged] + self._priced(sheets)
        effort = self.watch.limits.sharing_effort
        found = share_patterns(self.group, known, sheets, self.watch, effort)
        if not found.within(sheets):
            found = self._filled(known, sheets)
        return self._cut_out(found, sheets)

    def _filled(self, known: list[Node], sheets: int) -> Sharing:
        """Sheets filled piece by piece, either as a whole cutting or shared with those known."""
        found = NOTHING
        every = self.refined.classes.every
        for handful in self.fillings.handfuls():
            whole = next((one for one in handful if one.sheets <= sheets), None)
            if whole and self._stands_alone:
                return taken(
                    self.group,
                    {
                        (every[number].supplies[0], every[number].number, root): times
                        for (number, root), times in whole.takes.items()
                    },
                )
            known += [root for filling in handful for _, root in filling.takes]
            found = share_patterns(
                self.group, known, sheets, self.watch, self.watch.limits.sharing_effort
            )
            if found.within(sheets):
                break
        return found

    @property
    def _stands_alone(self) -> bool:
        """Whether a filling is a cutting as it is: there is nothing that it knows nothing of."""
        every = self.refined.classes.every
        asked = all(item.least == item.copies for item in self.group.items)
        return self.likes.free and asked and all(len(stock.supplies) == 1 for stock in every)

    def _cut_out(self, found: Sharing, most: int) -> Layouts | None:
        """Each sheet's pieces cut by as few cuts as can be; like sheets alike."""
        if not found.within(most):
            return None
        tidied: dict[object, Layout] = {}
        layouts: list[Layout] = []
        for count in found.sheets:
            key = (self.likes.kind(count.paper), count.source, tuple(sorted(count.pieces.items())))
            if key not in tidied:
                tidied[key] = self._tidied(count)
            layouts.append(replace(tidied[key], paper=count.paper, times=count.times))
        return tuple(layouts)

    def _priced(self, sheets: int) -> list[Node]:
        """The bound's layouts, and those that suit each paper's own share of the sheets."""
        known = self.bound.roots()
        if self.likes.several:
            even = self.likes.evenly_stocked(sheets)
            known += linear_bound(even, self.watch, apart=True).roots()
        return known

    def _tidied(self, count: SheetCount) -> Layout:
        """One sheet cut into just these pieces by the fewest cuts."""
        supply = next(s for s in self.group.supplies if s.paper == count.paper)
        source = replace(supply.sources[count.source], available=1)
        items = tuple(
            replace(
                item,
                least=count.pieces[item.id],
                copies=count.pieces[item.id],
                papers=(supply.paper,),
                dealt=False,
                spare=0,
                alike=1,
            )
            for item in self.group.items
            if item.id in count.pieces
        )
        alone = replace(supply, sources=(source,))
        one = replace(self.group, items=items, supplies=(alone,), card_types=(), counts=())
        limits = self.watch.limits
        found = self._solved(
            one,
            [StackedPapers(one.supplies)],
            Allowance(1, replace(limits.rows, most=limits.sheet_columns)),
            limits.rough_effort,
            limits.sheet_columns,
        )
        if found:
            return replace(found[0], source=supply.sources[count.source])
        return Layout(supply.paper, supply.sources[count.source], count.root)


def _asked(
    group: Subproblem, blocks: Sequence[StackedPapers], limits: Allowance, columns: int
) -> ArcFlowModel:
    """Raises TooLargeError if the program has more than so many columns."""
    if columns_asked(group, blocks, limits.reach) > columns:
        raise TooLargeError
    asked = ArcFlowModel(group, blocks, limits.reach)
    asked.ask_all()
    asked.limit_sheets(limits.sheets)
    return asked
