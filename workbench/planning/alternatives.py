"""Plans of one batch that truly differ, side by side: the maker picks."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.pace import ESTIMATED, Pace
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.craft.wish import Wish
from workbench.planning.progress import Watch
from workbench.planning.result import Plan, TableWork, table_work

WISHES: dict[Wish, str] = {
    "time": "quickest",
    "settings": "guide set least often",
    "strokes": "fewest cuts",
    "offcut": "largest offcut",
}
"""Each wish in the maker's words, the usual one first."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What a maker compares: seconds at the table, what they are made of, the largest offcut."""

    seconds: int
    work: TableWork
    offcut: Size | None

    @property
    def offcut_area(self) -> Fraction:
        """In square millimetres; 0 where no offcut is worth keeping."""
        return _area(self.offcut) if self.offcut else Fraction(0)

    def rank(self, wish: Wish) -> tuple[Fraction, ...]:
        """The less, the better the wish is served; then time, settings, strokes, the offcut."""
        work = self.work
        every = {
            "time": Fraction(self.seconds),
            "settings": Fraction(work.settings),
            "strokes": Fraction(work.strokes),
            "offcut": -self.offcut_area,
        }
        return every[wish], *every.values()


@dataclass(frozen=True, slots=True)
class Alternative:
    """A plan, and the wish for which it is the best of those found."""

    wish: Wish
    plan: Plan

    @property
    def figures(self) -> Figures:
        """What it takes and leaves."""
        return figures_of(self.plan)


def figures_of(plan: Plan) -> Figures:
    """What a plan takes at the table, at its own pace, and the largest offcut it leaves."""
    work = table_work(plan.cuts)
    return Figures(work.seconds(plan.pace), work, largest_kept(plan))


def find_alternatives(
    project: Project, trimmer: Trimmer, watch: Watch, pace: Pace = ESTIMATED
) -> tuple[Alternative, ...]:
    """One to four plans, all in the fewest sheets and with the same pieces.

    The quickest comes first. Another is there only where it is better at what it is called after,
    and each has the best figure of all in that.

    Raises:
        PlanningError: no amount of paper would do.
        Cancelled: `watch` stopped it.
    """
    from workbench.planning.driver import plans_for

    quickest, *others = plans_for(project, trimmer, watch, pace, tuple(WISHES))
    # Where little effort has found another by chance that is as quick or quicker, it is left out:
    # the quickest is the plan that is made when nothing is wished.
    least = figures_of(quickest).seconds
    made = [quickest, *(plan for plan in others if figures_of(plan).seconds > least)]
    figures = {id(plan): figures_of(plan) for plan in made}
    found: list[Alternative] = []
    for wish in WISHES:
        best = min(made, key=lambda plan: figures[id(plan)].rank(wish))
        reached = min(
            (figures[id(one.plan)].rank(wish)[0] for one in found),
            default=figures[id(best)].rank(wish)[0] + 1,
        )
        if figures[id(best)].rank(wish)[0] < reached:
            found.append(Alternative(wish, best))
    return tuple(found)


def wished(found: Sequence[Alternative], wish: Wish) -> Plan:
    """The plan that is offered for the wish; where none is, the best at it, of equals the first."""
    offered = (one.plan for one in found if one.wish == wish)
    best = min((one.plan for one in found), key=lambda plan: figures_of(plan).rank(wish))
    return next(offered, best)


def plan_as_wished(
    project: Project,
    trimmer: Trimmer,
    watch: Watch,
    pace: Pace = ESTIMATED,
    wish: Wish | None = None,
) -> Plan:
    """The plan that the maker gets who picks the wish side by side; the project's own if not given.

    Whoever plans a project goes by it, so that all have the same plan. Raises as `make_plan` does.
    """
    from workbench.planning.driver import make_plan

    wish = wish or project.wish
    if wish == "time":
        return make_plan(project, trimmer, watch, pace, wish)
    return wished(find_alternatives(project, trimmer, watch, pace), wish)


def largest_kept(plan: Plan) -> Size | None:
    """The largest offcut that the plan leaves, by area."""
    kept = (
        Size(part.width, part.height)
        for sheet in plan.sheets
        for part in sheet.parts
        if part.role == "offcut"
    )
    return max(kept, key=_area, default=None)


def _area(size: Size) -> Fraction:
    return size.width.mm * size.height.mm
