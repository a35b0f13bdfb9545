"""Cutting missing pieces of a batch from what is left: the search asked once more, for a part."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.cuts.cut_steps import CutSteps, pile_cuts
from workbench.planning.instance.instance import Instance, instance_of
from workbench.planning.layouts.tree import Layout
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Cut, Sheet
from workbench.planning.sheets.search import SheetSearch, ShortError


@dataclass(frozen=True, slots=True)
class MissingPiece:
    """`count` copies of the piece called `name` (or of the base), from any of `papers`."""

    name: str
    papers: tuple[str, ...]
    count: int


@dataclass(frozen=True, slots=True)
class Replacement:
    """Sheets (and offcuts) to cut up, with their final parts, and the cut steps in order."""

    sheets: tuple[Sheet, ...]
    cuts: tuple[Cut, ...]


def cut_missing(
    project: Project, missing: Sequence[MissingPiece], trimmer: Trimmer, watch: Watch
) -> Replacement | None:
    """Cut the `missing` pieces, and nothing else, from the papers and offcuts of `project`.

    The rules of mixing are left aside. Ids of sheets count from S1, of offcuts from O1.

    Returns:
        The replacement in the fewest sheets found; None where paper or trimmer cannot do.

    Raises:
        Cancelled: `watch` stopped it.
    """
    try:
        instance = _of_missing(instance_of(project, trimmer, limits=watch.limits), missing)
        layouts: list[Layout] = []
        for group in instance.groups:
            stack = {
                supply.paper: trimmer.at_once[project.paper(supply.paper).kind]
                for supply in group.supplies
            }
            layouts += SheetSearch(group, stack, watch).fewest().layouts
    except (ShortError, PlanningError):
        return None
    cuts = pile_cuts(project, trimmer, instance, layouts, watch.limits)
    work = CutSteps(instance, cuts)
    return Replacement(tuple(work.sheets), tuple(work.steps))


def _of_missing(instance: Instance, missing: Sequence[MissingPiece]) -> Instance:
    """The instance for the missing pieces alone."""
    groups = []
    for group in instance.groups:
        items = tuple(
            replace(
                item,
                id=number,
                papers=each.papers,
                least=each.count,
                copies=each.count,
                needed=True,
                dealt=False,
                spare=0,
            )
            for item in group.items
            for number, each in enumerate(missing)
            if each.name == item.name
        )
        asked = {paper for item in items for paper in item.papers}
        supplies = tuple(
            replace(supply, limits=()) for supply in group.supplies if supply.paper in asked
        )
        if items:
            groups.append(replace(group, items=items, supplies=supplies, card_types=()))
    return replace(instance, groups=tuple(groups))
