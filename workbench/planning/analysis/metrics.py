"""How a plan's cutting goes in the hand: strokes, settings, turns, and what there is to hold."""

from collections.abc import Iterator
from itertools import pairwise

from workbench.measure.length import Length
from workbench.planning.result import Plan, Rectangle, Step, rectangles, settings_of


def single_cuts(plan: Plan) -> int:
    """The strokes it would take without stacking."""
    return sum(len(step.takes) for step in _cuts(plan))


def settings_sheet_by_sheet(plan: Plan) -> int:
    """How often the guide would be set if one sheet were cut up after another."""
    by_sheet: dict[str, list[Step]] = {sheet.id: [] for sheet in plan.sheets}
    for step in _cuts(plan):
        for name in dict.fromkeys(label.split(".", 1)[0] for label in step.takes):
            by_sheet[name].append(step)
    return settings_of([step for steps in by_sheet.values() for step in steps])


def turns(plan: Plan) -> int:
    """How often the sheets are turned: cuts that measure the other way than the one before."""
    return sum(one.measure != other.measure for one, other in pairwise(_cuts(plan)))


def unheld(plan: Plan, hold: Length) -> tuple[Step, ...]:
    """The cuts neither of whose parts is `hold` wide, so that hands come near the blade."""
    known = rectangles(plan)
    return tuple(step for step in _cuts(plan) if _widest(step, known) < hold)


def _widest(step: Step, known: dict[str, Rectangle]) -> Length:
    assert step.measure
    return max(known[label].size.along(step.measure) for label in step.gives[0])


def _cuts(plan: Plan) -> Iterator[Step]:
    return (step for step in plan.steps if step.do == "cut")
