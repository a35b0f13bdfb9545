"""Warnings about how exactly a plan can be cut on the maker's trimmer, in sentences."""

from collections.abc import Iterator, Sequence

from workbench.craft.trimmer import Trimmer
from workbench.making.plan_index import PlanIndex
from workbench.making.words import listed, shortlist
from workbench.measure.counting import counted
from workbench.measure.writing import Graduation, how_far, write_length, write_near
from workbench.planning import Misfit, Overhang, Step, misfits, off_graduation, overhangs, unheld


def warnings(index: PlanIndex, trimmer: Trimmer) -> Iterator[str]:
    """Warn of what rounding to the rule's marks does, and of strips too narrow to hold.

    Args:
        index: the plan with its project; lengths are in the project's units.
        trimmer: the maker's, for its rule and the narrowest strip it holds.

    Yields:
        One sentence each: which marks lie between two lines, each piece that then comes out wrong,
        each that then sticks out on the card, and the cuts that leave nothing to hold.
    """
    plan, unit = index.plan, index.project.units
    rule = trimmer.graduations[unit]
    between = off_graduation(plan, rule)
    if between:
        marks = [write_length(mark, rule) for mark in between]
        lie = f"{counted(len(between), 'mark')} {'lies' if len(between) == 1 else 'lie'}"
        yield f"{lie} between the lines of the rule: {listed(marks)}."
    for misfit in misfits(plan, rule):
        yield _misfit(misfit, rule)
    for overhang in overhangs(index.project, plan, rule):
        yield _overhang(overhang)
    narrow = unheld(plan, trimmer.hold)
    if narrow:
        yield _unheld(narrow, write_length(trimmer.hold, rule))


def _misfit(misfit: Misfit, rule: Graduation) -> str:
    off = how_far(misfit.actual - misfit.wanted)
    return (
        f"Cut at the nearest marks, {misfit.piece} comes out {off} in {misfit.side} on "
        f"{shortlist(misfit.sheets)}: what the other cuts leave is not "
        f"{write_near(misfit.wanted, rule.unit)}. Measure that piece by itself."
    )


def _overhang(overhang: Overhang) -> str:
    by = how_far(overhang.by).removesuffix(" too long")
    return (
        f"Cut at the nearest marks, {overhang.piece} sticks out over the {overhang.on} by {by} in "
        f"{overhang.side}: trim it, or make it a little smaller."
    )


def _unheld(steps: Sequence[Step], hold: str) -> str:
    leave = f"{counted(len(steps), 'cut')} {'leaves' if len(steps) == 1 else 'leave'}"
    first = f"step {steps[0].n}" if len(steps) == 1 else f"the first is step {steps[0].n}"
    return (
        f"{leave} no part {hold} wide to hold ({first}): press the strip down with a ruler, "
        "fingers behind the guard."
    )
