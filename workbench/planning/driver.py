"""From a project to its plan: sheets, cuts, steps and combinations."""

import logging
import time
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from workbench.craft.pace import ESTIMATED, Pace
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.craft.wish import Wish
from workbench.measure.counting import counted
from workbench.planning.bound.column_generation import linear_bound
from workbench.planning.bound.paper_bound import least_sheets
from workbench.planning.cuts.cut_steps import PileCuts, pile_cuts
from workbench.planning.instance.instance import Instance, Subproblem, check_sensible, instance_of
from workbench.planning.layouts.positions import kept_shapes
from workbench.planning.layouts.tree import Layout, leaves
from workbench.planning.limits import DEFAULT, QUICK
from workbench.planning.mixing.conflicts import check_mixing
from workbench.planning.paper_survey import Survey, surveyed
from workbench.planning.plan_writing import Draft, write_plan
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Plan, Shortage
from workbench.planning.shape import Shape
from workbench.planning.sheets.cutting import Cutting, settled
from workbench.planning.sheets.search import SheetSearch, ShortError
from workbench.planning.sheets.table_model import Stacks
from workbench.planning.sheets.table_rounds import TableFigures, TableTask
from workbench.planning.sheets.table_search import TableSearch
from workbench.planning.shortage import (
    bought,
    even_shares,
    most_cards,
    out_of_stock,
    stocked,
    to_be_bought,
)
from workbench.planning.side_by_side import side_by_side

_log = logging.getLogger(__name__)


def make_plan(
    project: Project,
    trimmer: Trimmer | None = None,
    watch: Watch | None = None,
    pace: Pace = ESTIMATED,
    wish: Wish | None = None,
) -> Plan:
    """Plan the whole batch: fewest sheets, then what is wished for, least time, the best offcut.

    The `wish` is the project's own if none is given. Where paper is short the plan counts the least
    shopping list as bought.

    Raises:
        PlanningError: no amount of paper would do.
        Cancelled: `watch` stopped it.
    """
    planner = Planner(project, trimmer or Trimmer(), watch or Watch(), pace)
    wishes = (project.wish,) if wish is None else (wish,)
    return planner.plans(wishes)[0]


def plans_for(
    project: Project, trimmer: Trimmer, watch: Watch, pace: Pace, wishes: Sequence[Wish]
) -> list[Plan]:
    """A plan for each of the `wishes`, all of the same sheets and pieces.

    Raises as `make_plan` does.
    """
    return Planner(project, trimmer, watch, pace).plans(wishes)


def first_plan(
    project: Project, trimmer: Trimmer, watch: Watch, pace: Pace = ESTIMATED
) -> Plan | None:
    """A good plan soon, to look at while `make_plan` makes the best; None where paper is short.

    Raises as `make_plan` does.
    """
    return Planner(project, trimmer, watch, pace).first()


def check_project(project: Project, trimmer: Trimmer) -> None:
    """Check that enough paper would make the project, by its rules and on this trimmer.

    Raises:
        PlanningError: no amount of paper would do; says why and what would help.
    """
    check_sensible(project, project.card.count, Watch().limits.pieces)
    check_mixing(project)
    instance_of(project, trimmer)


def fewest_sheets(
    project: Project, trimmer: Trimmer, watch: Watch
) -> dict[frozenset[str], int | None]:
    """A number of whole sheets that no plan goes below, for each set of papers planned together.

    None where the paper on hand cannot do.

    Raises:
        PlanningError: no amount of paper would do.
        Cancelled: `watch` stopped it.
    """
    return {
        frozenset(supply.paper for supply in group.supplies): least_sheets(
            linear_bound(group, watch), watch
        ).sheets
        for group in instance_of(project, trimmer, limits=watch.limits).groups
    }


def survey(project: Project, trimmer: Trimmer, watch: Watch, *, soon: bool = False) -> Survey:
    """See what a project takes: as `make_plan`, but marks, cuts and mixing are not looked at.

    It looks less far for the fewest sheets than a plan does, and as far only where that leaves
    a doubt. Told to be done `soon` it takes the first cutting that serves.

    Raises:
        PlanningError: no amount of paper would do.
        Cancelled: `watch` stopped it.
    """
    return Planner(project, trimmer, replace(watch, limits=QUICK)).survey(soon=soon)


@dataclass
class Planner:
    """Plans one project for one trimmer.

    The objectives are lexicographic: each stage of `SHEETS` and then of `TABLE` betters its own
    and gives up nothing that a stage before it has won.
    """

    project: Project
    trimmer: Trimmer
    watch: Watch
    pace: Pace = ESTIMATED

    def plans(self, wishes: Sequence[Wish]) -> list[Plan]:
        """A plan for each wish, every stage served in turn. Raises PlanningError, Cancelled."""
        draft = self._through(SHEETS, self._begun())
        table = self._table(draft)
        timed = [table.best(wish) for wish in wishes]
        return [
            self.written(
                replace(
                    draft,
                    cuttings=one.cuttings,
                    least_seconds=one.least,
                    fewest_marks=one.fewest_marks,
                )
            )
            for one in timed
        ]

    def survey(self, *, soon: bool) -> Survey:
        """What the fewest sheets take and leave. Raises PlanningError, Cancelled."""
        draft = self._begun()
        makeable = self.project.card.count
        layouts: list[Layout] = []
        shopping: Counter[str] = Counter()
        for number, search in enumerate(draft.searches):
            try:
                found = ((soon and search.first()) or self._surely(search)).layouts
            except ShortError:
                found = self._bought_surely(draft.instance.groups[number]).layouts
                shopping += bought(found)
                makeable = self._most_of(number, makeable)
            layouts += found
        shortages = tuple(Shortage(paper, sheets) for paper, sheets in sorted(shopping.items()))
        return surveyed(draft.instance, layouts, makeable, shortages)

    def _most_of(self, number: int, cards: int) -> int:
        """The most cards, up to `cards` and below all, that the paper of one short group makes."""

        def possible(fewer: int) -> bool:
            instance = instance_of(self.project, self.trimmer, fewer, self.watch.limits)
            return self._serves(instance.groups[number])

        if cards < self.project.card.count and possible(cards):
            return cards
        return most_cards(cards, possible)

    def _serves(self, group: Subproblem) -> bool:
        """Whether a group can be cut from its paper on hand, however it is cut."""
        search = self._search(group)
        try:
            return search.first() is not None or bool(self._surely(search))
        except ShortError:
            return False

    def _surely(self, search: SheetSearch) -> Cutting:
        """Few sheets, looked for as far as a plan does before the paper is said to be short.

        Raises ShortError where a plan would find that too, Cancelled.
        """
        try:
            return search.fewest()
        except ShortError:
            if search.ruled_out or self.watch.limits == DEFAULT:
                raise
            return self._further(search).fewest()

    def _bought_surely(self, group: Subproblem) -> Cutting:
        """As few sheets bought as a plan would buy. Raises PlanningError, Cancelled."""
        cutting = self._bought(group)
        if cutting.sheets == cutting.fewest:
            return cutting
        return self._further(self._search(to_be_bought(group))).fewest()

    def _further(self, search: SheetSearch) -> SheetSearch:
        return replace(search, watch=replace(self.watch, limits=DEFAULT))

    def _through(self, stages: "Sequence[Stage]", draft: Draft) -> Draft:
        for stage in stages:
            draft = stage(self, draft)
            _log.debug("%s: %s", stage.__name__, draft)
        return draft

    def _begun(self) -> Draft:
        started = time.monotonic()
        self.watch.stage("looking at the paper")
        check_sensible(self.project, self.project.card.count, self.watch.limits.pieces)
        check_mixing(self.project)
        instance = instance_of(self.project, self.trimmer, limits=self.watch.limits)
        searches = [self._search(group) for group in instance.groups]
        return Draft(instance, searches, (), self.project.card.count, started)

    # The stages

    def fewest_sheets(self, draft: Draft) -> Draft:
        """The fewest sheets opened; where paper is short, the fewest sheets bought."""
        try:
            cuttings = side_by_side([search.fewest for search in draft.searches])
        except ShortError:
            return self._fewest_bought(draft)
        return replace(draft, cuttings=cuttings)

    def wanted_pieces(self, draft: Draft) -> Draft:
        """The pieces cut only if they fit, as many as fitted, are asked for from here on."""
        pairs = zip(draft.instance.groups, draft.cuttings, strict=True)
        asked = [settled(group, cutting.layouts) for group, cutting in pairs]
        searches = [
            search if search.group == group else self._search(group)
            for search, group in zip(draft.searches, asked, strict=True)
        ]
        return replace(draft, searches=searches)

    def _table(self, draft: Draft) -> TableSearch:
        instance = draft.instance
        stacks = {
            paper.name: Stacks(paper.kind, self.trimmer.at_once[paper.kind])
            for paper in self.project.papers
        }
        keeps = kept_shapes(instance.scale)
        measure = partial(self._measured, instance, keeps)
        task = TableTask(stacks, self.pace, keeps, measure, self.watch)
        return TableSearch(draft.searches, draft.cuttings, task)

    def _measured(
        self, instance: Instance, keeps: Callable[[Shape], bool], layouts: Sequence[Layout]
    ) -> TableFigures:
        """What layouts take once they are put in order."""
        taken = self._ordered(instance, layouts).work
        kept = [
            leaf.width * leaf.height
            for layout in layouts
            for leaf in leaves(layout.root)
            if leaf.item is None and keeps(leaf.shape)
        ]
        return TableFigures(
            taken.seconds(self.pace), taken.settings, taken.strokes, max(kept, default=0)
        )

    def _ordered(self, instance: Instance, found: Iterable[Layout]) -> PileCuts:
        return pile_cuts(self.project, self.trimmer, instance, found, self.watch.limits)

    def _fewest_bought(self, draft: Draft) -> Draft:
        with_shop = self._with_shop(draft.instance)
        makeable = most_cards(self.project.card.count, self._makeable)
        shopping = sum((bought(cutting.layouts) for cutting in with_shop), Counter[str]())
        instance = stocked(draft.instance, shopping)
        cuttings = [
            self._once_bought(group, cutting.layouts)
            for group, cutting in zip(instance.groups, with_shop, strict=True)
        ]
        return replace(draft, instance=instance, cuttings=cuttings, makeable=makeable)

    def written(self, draft: Draft) -> Plan:
        """The plan, steps and deal included, of the layouts in `draft`."""
        self.watch.stage("ordering the work")
        cuts = self._ordered(draft.instance, draft.layouts)
        return write_plan(self.project, draft, cuts, self.pace, self.watch)

    def first(self) -> Plan | None:
        """The first plan found, before marks and cuts are made few."""
        draft = self._begun()
        cuttings = []
        for search in draft.searches:
            cutting = search.first()
            if cutting is None:
                return None
            cuttings.append(cutting)
        return self.written(replace(draft, cuttings=cuttings))

    def searches(self) -> list[SheetSearch]:
        """A search for each group, with the paper on hand alone. Raises PlanningError."""
        check_mixing(self.project)
        return [
            self._search(group)
            for group in instance_of(self.project, self.trimmer, limits=self.watch.limits).groups
        ]

    def _search(self, group: Subproblem) -> SheetSearch:
        stack = {
            supply.paper: self.trimmer.at_once[self.project.paper(supply.paper).kind]
            for supply in group.supplies
        }
        return SheetSearch(group, stack, self.watch)

    def _with_shop(self, instance: Instance) -> list[Cutting]:
        """Cuttings that buy the fewest sheets."""
        self.watch.stage("working out what to buy")
        return [self._bought(group) for group in instance.groups]

    def _bought(self, group: Subproblem) -> Cutting:
        """The fewest sheets bought; as many of one paper as of another where that will do."""
        try:
            found = self._search(to_be_bought(group)).fewest()
        except ShortError as error:
            raise PlanningError(_beyond_help(group)) from error
        shares = even_shares(group, bought(found.layouts))
        if not shares:
            return found
        return self._search(to_be_bought(group, shares)).no_more_than(found) or found

    def _once_bought(self, group: Subproblem, layouts: Sequence[Layout]) -> Cutting:
        """The group's own cutting; where none is found, the one by which the sheets were bought."""
        search = self._search(group)
        try:
            return search.fewest()
        except ShortError:
            return Cutting(out_of_stock(group, layouts), search.bound.sheets or 0)

    def _makeable(self, cards: int) -> bool:
        self.watch.stage(f"seeing whether {counted(cards, 'card')} can be made")
        instance = instance_of(self.project, self.trimmer, cards, self.watch.limits)
        return all(map(self._serves, instance.groups))


def _beyond_help(group: Subproblem) -> str:
    papers = ", ".join(f'"{supply.paper}"' for supply in group.supplies)
    return (
        f"On this trimmer not every piece can be cut from whole sheets of {papers}, and there are "
        "too few offcuts for the rest. Have the sheets cut smaller and enter the parts as offcuts."
    )


Stage = Callable[[Planner, Draft], Draft]

SHEETS: tuple[Stage, ...] = (Planner.fewest_sheets, Planner.wanted_pieces)
"""What all plans of a batch share: how many sheets, and which of the wanted pieces."""
