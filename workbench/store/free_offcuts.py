"""The offcuts that are free in the drawer, as a project would take their papers."""

from functools import cache

from workbench.craft.paper import Paper
from workbench.craft.project import Project
from workbench.making.offcut_offers import Lying, lying_of
from workbench.store.drawer import Drawer


def offcuts_for(project: Project, drawer: Drawer) -> tuple[Lying, ...]:
    """Those of the project's own papers, and all that are free in the drawer beside them.

    Raises:
        WorkshopError: where the drawer cannot be read.
    """
    own = lying_of(project)
    if not drawer.workshop.exists:
        return own
    papers, offcuts = drawer.listing()
    lines = {line.id: line for line in papers}
    linked = {paper.stock for paper in project.papers}

    @cache
    def taken(paper_id: int) -> Paper:
        return lines[paper_id].taken

    free = (
        Lying(taken(line.paper), line.measures, line.counts.on_hand)
        for line in offcuts
        if line.counts.on_hand and lines[line.paper].key not in linked
    )
    return (*own, *free)
