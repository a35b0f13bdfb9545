"""Where the plan of the open project stands, in words."""

from collections.abc import Iterator

from textual import getters
from textual.content import Content
from textual.widgets import Static

from workbench.app.base import WorkbenchApp
from workbench.app.commands import PlanAgain, StopPlanning
from workbench.app.session import Session
from workbench.craft.project import Project
from workbench.making.words import in_minutes, taken_words, unused_words
from workbench.measure.counting import counted
from workbench.planning import Plan, table_work


class PlanLine(Static):
    """Says what the planner is doing, why there is no plan, or what the plan needs."""

    DEFAULT_CSS = """
    PlanLine { height: auto; padding: 0 1; background: $surface; }
    PlanLine.wrong { color: $error; }
    """

    app = getters.app(WorkbenchApp)

    def __init__(self) -> None:
        super().__init__(markup=False)

    def show(self, session: Session, stage: str | None) -> None:
        self.set_class(bool(session.trouble), "wrong")
        self.update(Content(" ".join(self._words(session, stage))))

    def _words(self, session: Session, stage: str | None) -> Iterator[str]:
        stop, plan = self.app.key_of(StopPlanning), self.app.key_of(PlanAgain)
        if stage is not None and session.plan:
            yield from _plan_words(session.project, session.plan)
            yield f"Better may come: {stage} … ({stop} keeps this plan)"
        elif stage is not None:
            yield f"Planning: {stage} … ({stop} stops it)"
        elif session.plan:
            yield from _plan_words(session.project, session.plan)
            if session.planned and session.planned.early:
                yield f"Stopped early: a better plan may be possible ({plan} plans again)."
        elif session.trouble:
            yield f"{session.trouble} ({plan} plans again)"


def _plan_words(project: Project, plan: Plan) -> Iterator[str]:
    totals = plan.totals
    proof = "no plan needs fewer" if totals.proven else f"at least {totals.fewest_possible}"
    yield f"{counted(plan.cards, 'card')} from {taken_words(plan, f' ({proof})')},"
    yield f"{counted(totals.cuts, 'cut')} at {counted(totals.marks, 'mark')},"
    minutes = in_minutes(table_work(plan.cuts).seconds(plan.pace))
    yield f"about {minutes} {'at your pace' if plan.pace.own else '(estimated)'}."
    if unused := unused_words(project, plan):
        yield f"{unused}."
    if plan.shortages:
        missing = (f"{short.sheets} more of {short.paper}" for short in plan.shortages)
        makeable = counted(plan.makeable, "card")
        yield f"SHORT: {', '.join(missing)}. What is on hand makes {makeable}."
