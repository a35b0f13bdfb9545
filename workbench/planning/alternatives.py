"""Plans of one batch that truly differ, side by side: the maker picks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.progress import Watch
from workbench.planning.result import Plan, settings

if TYPE_CHECKING:
    from workbench.planning.sheets.search import Cutting

Wish = Literal["marks", "cuts", "offcut"]
"""What a plan can be best at, among plans of the same sheets and pieces."""

WISHES: dict[Wish, str] = {
    "marks": "fewest marks to set",
    "cuts": "fewest cuts",
    "offcut": "largest offcut kept",
}
"""Each wish in the maker's words."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What a maker compares. `offcut` is the largest leftover worth keeping, if there is one."""

    marks: int
    settings: int
    cuts: int
    offcut: Size | None


@dataclass(frozen=True, slots=True)
class Alternative:
    """A plan that comes first among its fellows in one wish."""

    wish: Wish
    plan: Plan

    @property
    def figures(self) -> Figures:
        """What a maker compares of this plan."""
        totals = self.plan.totals
        return Figures(totals.marks, settings(self.plan), totals.cuts, largest_kept(self.plan))


def find_alternatives(project: Project, trimmer: Trimmer, watch: Watch) -> tuple[Alternative, ...]:
    """One to three plans, all in the fewest sheets and with the same pieces.

    The first is `make_plan`'s, of the fewest marks; another is there only where it has fewer cuts,
    or keeps a larger offcut, than every one before. Raises as `make_plan` does.
    """
    from workbench.planning.cuts.largest_offcut import largest_offcut
    from workbench.planning.driver import Planner

    planner = Planner(project, trimmer, watch)
    ground = planner.ground()
    offcut = largest_offcut(ground.instance, ground.searches, ground.cuttings, watch)
    found = [Alternative("marks", planner.best(ground))]
    others: tuple[tuple[Wish, Sequence[Cutting]], ...] = (
        ("cuts", ground.cuttings),
        ("offcut", offcut),
    )
    for wish, cuttings in others:
        plan = planner.written(replace(ground, cuttings=cuttings))
        if all(_worth(plan, wish) > _worth(choice.plan, wish) for choice in found):
            found.append(Alternative(wish, plan))
    return tuple(found)


def wished(found: Sequence[Alternative], wish: Wish) -> Plan:
    """The plan that serves the wish best; of equals the first."""
    return max((choice.plan for choice in found), key=lambda plan: _worth(plan, wish))


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


def _worth(plan: Plan, wish: Wish) -> Fraction:
    """The more, the better the plan serves the wish."""
    match wish:
        case "marks":
            return Fraction(-plan.totals.marks)
        case "cuts":
            return Fraction(-plan.totals.cuts)
        case "offcut":
            kept = largest_kept(plan)
            return _area(kept) if kept else Fraction(0)
