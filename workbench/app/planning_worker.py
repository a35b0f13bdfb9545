"""Planning and dealing in a thread of their own: what comes of it is posted to the app."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from textual.worker import Worker, get_current_worker

from workbench.app.base import WorkbenchApp
from workbench.app.messages import (
    DealRefused,
    Dealt,
    LossFound,
    PlanFound,
    PlanningEnded,
    PlanningReported,
    StageBegun,
)
from workbench.app.session import Planned

if TYPE_CHECKING:
    from workbench.craft.pace import Pace
    from workbench.craft.project import Project
    from workbench.craft.trimmer import Trimmer
    from workbench.planning import Plan

_GROUP = "planning"


class PlanningWorker:
    """Plans and deals what is open in `app`, one thing at a time: beginning one stops the other.

    It holds all there is to know of the work under way. `WorkbenchApp.stage` tells others of it.
    """

    def __init__(self, app: WorkbenchApp) -> None:
        self._app = app
        # The work begun last whose outcome is still wanted.
        self._at_work: Worker[None] | None = None

    # What is asked of it, see base.Planning

    def ensure(self) -> None:
        session = self._app.session
        if session and not session.is_planned and self._app.stage is None:
            self.again()

    def again(self) -> None:
        app = self._app
        app.count_stock_anew()
        if app.session:
            app.stage = "beginning"
            app.session = app.session.with_planned(None)
            self._begin(partial(self._plan, app.session.project, app.trimmer(), app.pace()))

    def stop(self) -> None:
        self._app.workers.cancel_group(self._app, _GROUP)

    def discard(self) -> None:
        self.stop()
        self._at_work = None
        self._app.stage = None

    def forget(self) -> None:
        self.discard()
        if self._app.session:
            self._app.session = self._app.session.with_planned(None)

    def take(self, plan: "Plan", project: "Project | None" = None) -> None:
        if project:
            self._app.change_project(project)
        if session := self._app.session:
            self._app.session = session.with_planned(Planned(session.project, plan))

    def plan_as(self, project: "Project") -> None:
        self._app.change_project(project)
        self.again()

    def plan_by(self, project: "Project") -> None:
        """Plan by other rules; they are kept when the plan stands, after a question if any loses.

        Without a plan to compare with they are kept at once.
        """
        app = self._app
        if app.session and app.session.plan:
            app.stage = "beginning"
            self._begin(partial(self._plan, project, app.trimmer(), app.pace()))
        else:
            self.plan_as(project)

    def deal_by(self, project: "Project") -> None:
        if self._app.session and self._app.session.plan:
            self._begin_deal(project, self._app.session.plan, anew=False)

    def deal_anew(self) -> None:
        session = self._app.session
        if session and session.plan:
            self._begin_deal(session.project, session.plan, anew=True)

    # What came of it

    def hear(self, message: PlanningReported) -> None:
        """Take up what came of the work begun last, and nothing of any before it."""
        app = self._app
        if app.session is None or message.worker is not self._at_work:
            return
        match message:
            case StageBegun():
                app.stage = message.stage
            case PlanFound() if message.planned.project == app.session.project:
                app.session = app.session.with_planned(message.planned)
            case PlanningEnded() if message.planned.project == app.session.project:
                app.stage = None
                app.session = app.session.with_planned(message.planned)
            case PlanningEnded():
                app.stage = None
                self._offer(message.planned)
            case Dealt():
                app.stage = None
                self._offer(Planned(message.project, message.plan))
            case DealRefused():
                self._go_on_refused(message)

    def _offer(self, planned: Planned) -> None:
        """Take up new rules with their plan; ask first where cards lose by them."""
        from workbench.making.words import loss_words

        app = self._app
        if planned.plan is None or planned.early:
            app.say_wrong(f"{planned.trouble or 'The planning was stopped.'} The rules stay.")
            return
        before = app.session.plan if app.session else None
        lost = loss_words(planned.project, before, planned.plan) if before else ""
        if lost:
            app.post_message(LossFound(planned.project, planned.plan, lost))
        else:
            self.take(planned.plan, planned.project)

    def _go_on_refused(self, message: DealRefused) -> None:
        """Where rules are new, other pieces may follow them: plan by them."""
        app = self._app
        app.stage = None
        if app.session and message.asked in (None, app.session.project):
            app.say_wrong(message.why)
        elif message.asked:
            app.notify("The pieces cut so far cannot follow that: planned anew.")
            self.plan_by(message.asked)

    # The work

    def _begin_deal(self, project: "Project", plan: "Plan", *, anew: bool) -> None:
        self._app.stage = "dealing the cards"
        self._begin(partial(self._deal, project, plan, anew=anew))

    def _begin(self, work: Callable[[], None]) -> None:
        self._at_work = self._app.run_worker(work, group=_GROUP, exclusive=True, thread=True)

    # In the thread: these only post messages and never touch a widget.

    def _plan(
        self, project: "Project", trimmer: "Trimmer", pace_asked: "Callable[[], Pace]"
    ) -> None:
        from workbench.planning import (
            Cancelled,
            PlanningError,
            Watch,
            first_plan,
            plan_as_wished,
        )

        worker = get_current_worker()

        def say(stage: str) -> None:
            self._app.post_message(StageBegun(worker, stage))

        watch = Watch(say, lambda: worker.is_cancelled)
        planned = Planned(project, trouble="The planning was stopped.", early=True)
        try:
            pace = pace_asked()
            first = first_plan(project, trimmer, watch, pace)
            if first:
                planned = Planned(project, first, early=True)
                self._app.post_message(PlanFound(worker, planned))
            planned = Planned(project, plan_as_wished(project, trimmer, watch, pace))
        except PlanningError as error:
            planned = Planned(project, trouble=str(error))
        except Cancelled:
            pass
        self._app.post_message(PlanningEnded(worker, planned))

    def _deal(self, project: "Project", plan: "Plan", *, anew: bool) -> None:
        from workbench.planning import Cancelled, PlanningError, Watch, dealt_anew, redealt

        worker = get_current_worker()
        watch = Watch(lambda _: None, lambda: worker.is_cancelled)
        try:
            if anew:
                asked, dealt = dealt_anew(project, plan, watch)
            else:
                asked, dealt = project, redealt(project, plan, watch)
        except PlanningError as error:
            self._app.post_message(DealRefused(worker, project, str(error)))
        except Cancelled:
            self._app.post_message(DealRefused(worker, None, "The dealing was stopped."))
        else:
            self._app.post_message(Dealt(worker, asked, dealt))
