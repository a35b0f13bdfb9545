"""When paper is short: each single change that would make the paper on hand enough."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count, takewhile
from typing import Literal

from workbench.craft.card import BASE
from workbench.craft.errors import CraftError
from workbench.craft.fitting import changed, resized
from workbench.craft.geometry import bearer_extent, laid_out
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.writing import write_near
from workbench.planning.driver import Planner
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.sheets.search import SheetSearch, ShortError

_How = Literal["narrower", "shorter"]

# What hardly shows on a card (common practice, no source).
MOST_OFF: dict[Unit, Length] = {"in": Length.of(Fraction(1, 8), "in"), "mm": Length.of(3, "mm")}


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What to do, in words, and the project once it is done: the paper is enough for it."""

    words: str
    project: Project


def find_suggestions(project: Project, trimmer: Trimmer, watch: Watch) -> Iterator[Suggestion]:
    """Single changes that are enough, each found so by planning it; none if nothing is short.

    A print let turn; one more sheet of a paper; one side of a piece, or of the card, up to 1/8 in
    (3 mm) smaller, by as little as is enough. Raises PlanningError, Cancelled.
    """
    watch.stage("looking for a change that would be enough")
    searches = Planner(project, trimmer, watch).searches()
    short = [
        number for number, search in enumerate(searches) if not (search.first() or _serves(search))
    ]
    if len(short) != 1:  # a change helps the papers of one group only
        return
    group = searches[short[0]].group
    papers = [project.paper(supply.paper) for supply in group.supplies]
    trials = _Trials(project, trimmer, watch, short[0])
    for tried in (
        *_turned(project, papers),
        *_restocked(project, papers),
        *_smaller(project, trimmer, {item.name for item in group.items}),
    ):
        change = trials.least(tried)
        if change:
            yield change


@dataclass
class _Trials:
    """Plans the group that is short again, so many times at most."""

    project: Project
    trimmer: Trimmer
    watch: Watch
    group: int
    planned: int = 0

    def least(self, tried: Sequence[Suggestion]) -> Suggestion | None:
        """The first that is enough of changes each larger than the one before."""
        if not tried or not self._possible(tried[-1]):
            return None
        return next((change for change in tried if self._enough(change)), None)

    def _possible(self, change: Suggestion) -> bool:
        search = self._search(change)
        return search is not None and search.bound.sheets is not None

    def _enough(self, change: Suggestion) -> bool:
        search = self._search(change)
        if (
            search is None
            or search.bound.sheets is None
            or self.planned == self.watch.limits.suggestions_planned
        ):
            return False
        self.planned += 1
        return _serves(search)

    def _search(self, change: Suggestion) -> SheetSearch | None:
        self.watch.stage(f"seeing whether it would do to {change.words}")
        try:
            return Planner(change.project, self.trimmer, self.watch).searches()[self.group]
        except PlanningError:
            return None


def _serves(search: SheetSearch) -> bool:
    try:
        search.fewest()
    except ShortError:
        return False
    return True


# The changes to try


def _turned(project: Project, papers: Sequence[Paper]) -> Iterator[Sequence[Suggestion]]:
    for paper in papers:
        if not paper.turns:
            back = replace(paper.back, run="none") if paper.back else None
            turning = replace(paper, run="none", back=back)
            words = f"let pieces of {paper.name} lie sideways"
            yield [Suggestion(words, _with_paper(project, turning))]


def _restocked(project: Project, papers: Sequence[Paper]) -> Iterator[Sequence[Suggestion]]:
    for paper in papers:
        more = replace(paper, sheets=paper.sheets + 1)
        yield [Suggestion(f"get one more sheet of {paper.name}", _with_paper(project, more))]


def _smaller(project: Project, trimmer: Trimmer, names: set[str]) -> Iterator[Sequence[Suggestion]]:
    """Each side of the card and of its pieces, less and less of it by marks of the rule."""
    unit = project.units
    interval = trimmer.graduations[unit].interval
    steps = [*takewhile(lambda off: off <= MOST_OFF[unit], (interval * n for n in count(1)))]
    for name in (BASE, *(piece.name for piece in project.pieces)):
        if name in names:
            yield [*_less(project, name, "narrower", steps)]
            yield [*_less(project, name, "shorter", steps)]


def _less(project: Project, name: str, how: _How, steps: Sequence[Length]) -> Iterator[Suggestion]:
    """The changes, but for those that leave nothing or make something stick out."""
    unit, size = project.units, _size(project, name)
    for off in steps:
        narrower, shorter = size.width - off, size.height - off
        try:
            smaller = _resized(
                project,
                name,
                Size(narrower, size.height) if how == "narrower" else Size(size.width, shorter),
            )
        except CraftError:
            return
        if _sticking_out(smaller) <= _sticking_out(project):
            left = narrower if how == "narrower" else shorter
            by = f"{write_near(off, unit)} {how} ({write_near(left, unit)})"
            yield Suggestion(f"make {'the card' if name == BASE else name} {by}", smaller)


def _size(project: Project, name: str) -> Size:
    return project.card.size if name == BASE else project.piece(name).size


def _resized(project: Project, name: str, size: Size) -> Project:
    if name == BASE:
        return replace(project, card=replace(project.card, size=size))
    return changed(project, resized(project.piece(name), size))


def _sticking_out(project: Project) -> set[str]:
    return {
        placed.piece.name
        for placed in laid_out(project)
        if bearer_extent(project, placed.piece.name).borders(placed.extent).least < ZERO
    }


def _with_paper(project: Project, changed_paper: Paper) -> Project:
    papers = (
        changed_paper if paper.name == changed_paper.name else paper for paper in project.papers
    )
    return replace(project, papers=tuple(papers))
