"""How a plan's cutting goes in the hand: strokes, settings, turns, and what there is to hold."""

from collections.abc import Mapping
from itertools import pairwise

from workbench.measure.length import Length
from workbench.planning.result import Cut, PartId, Plan, Rectangle, rectangles, settings_of


def single_cuts(plan: Plan) -> int:
    """The strokes that the plan would take if no sheets were stacked."""
    return sum(len(step.takes) for step in plan.cuts)


def settings_sheet_by_sheet(plan: Plan) -> int:
    """How often the guide would be set if one sheet were cut up after another."""
    by_sheet: dict[str, list[Cut]] = {sheet.id: [] for sheet in plan.sheets}
    for step in plan.cuts:
        for name in dict.fromkeys(part.sheet for part in step.takes):
            by_sheet[name].append(step)
    return settings_of([step for steps in by_sheet.values() for step in steps])


def turns(plan: Plan) -> int:
    """How often the sheets are turned: cuts that measure the other way than the one before."""
    return sum(one.measure != other.measure for one, other in pairwise(plan.cuts))


def unheld(plan: Plan, hold: Length) -> tuple[Cut, ...]:
    """The cuts neither of whose parts is `hold` wide, so that hands come near the blade."""
    known = rectangles(plan)
    return tuple(step for step in plan.cuts if _widest(step, known) < hold)


def _widest(cut: Cut, known: Mapping[PartId, Rectangle]) -> Length:
    return max(known[part].size.along(cut.measure) for part in cut.gives[0])
