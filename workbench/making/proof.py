"""How few sheets are possible once a slip has changed what the cards ask for."""

from collections import Counter
from dataclasses import replace

from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning import Plan, PlanningError, Watch, fewest_sheets


def bounded_anew(plan: Plan, project: Project, trimmer: Trimmer, watch: Watch) -> Plan:
    """The plan with the bounds of `project` as it is now. Raises Cancelled."""
    opened = Counter(sheet.paper for sheet in plan.sheets if not sheet.offcut)
    papers = tuple(
        replace(paper, sheets=max(paper.sheets, opened[paper.name])) for paper in project.papers
    )
    try:
        fewest = fewest_sheets(replace(project, papers=papers), trimmer, watch)
    except PlanningError:
        fewest = {}
    groups = tuple(
        replace(group, fewest_possible=min(group.sheets, fewest.get(frozenset(group.papers)) or 0))
        for group in plan.groups
    )
    least = sum(group.fewest_possible for group in groups)
    return replace(plan, groups=groups, totals=replace(plan.totals, fewest_possible=least))
