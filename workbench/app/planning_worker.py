"""Planning and dealing in a thread of their own: what comes of it is posted to the app."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from textual.app import App
from textual.message import Message
from textual.worker import Worker, get_current_worker

from workbench.app.session import Planned
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer

if TYPE_CHECKING:
    from workbench.planning import Plan

_GROUP = "planning"


class News(Message):
    """Something came of the work that `worker` does."""

    def __init__(self, worker: Worker[None]) -> None:
        super().__init__()
        self.worker = worker


class StageBegun(News):
    """The planner began a stage."""

    def __init__(self, worker: Worker[None], stage: str) -> None:
        super().__init__(worker)
        self.stage = stage


class PlanFound(News):
    """A plan stands, and a better one is looked for."""

    def __init__(self, worker: Worker[None], planned: Planned) -> None:
        super().__init__(worker)
        self.planned = planned


class PlanningEnded(News):
    """The planner came to an end."""

    def __init__(self, worker: Worker[None], planned: Planned) -> None:
        super().__init__(worker)
        self.planned = planned


class Dealt(News):
    """The pieces of a plan are dealt anew: the plan, and the project that says how."""

    def __init__(self, worker: Worker[None], project: Project, plan: "Plan") -> None:
        super().__init__(worker)
        self.project = project
        self.plan = plan


class DealRefused(News):
    """The pieces of the plan cannot be dealt as `asked`; None where the dealing was stopped."""

    def __init__(self, worker: Worker[None], asked: Project | None, why: str) -> None:
        super().__init__(worker)
        self.asked = asked
        self.why = why


class Planner:
    """Does one thing at a time: beginning another stops the one before."""

    def __init__(self, app: App[None]) -> None:
        self._app = app
        self._at_work: Worker[None] | None = None

    def plan(self, project: Project, trimmer: Trimmer) -> None:
        """Post the stages, a first plan where there is one, and the end."""
        self._begin(partial(self._plan, project, trimmer))

    def deal(self, project: Project, plan: "Plan") -> None:
        """Deal the pieces of `plan` by the rules of `project`; post them, or the refusal."""
        self._begin(partial(self._deal, project, plan, anew=False))

    def deal_anew(self, project: Project, plan: "Plan") -> None:
        """The same in another way than `plan` does."""
        self._begin(partial(self._deal, project, plan, anew=True))

    def stop(self) -> None:
        self._app.workers.cancel_group(self._app, _GROUP)

    def is_current(self, news: News) -> bool:
        """Whether `news` is of the work begun last, and not of some before it."""
        return news.worker is self._at_work

    def _begin(self, work: Callable[[], None]) -> None:
        self._at_work = self._app.run_worker(work, group=_GROUP, exclusive=True, thread=True)

    # In the thread: these only post messages and never touch a widget.

    def _plan(self, project: Project, trimmer: Trimmer) -> None:
        from workbench.planning import Cancelled, PlanningError, Watch, first_plan, make_plan

        worker = get_current_worker()

        def say(stage: str) -> None:
            self._app.post_message(StageBegun(worker, stage))

        watch = Watch(say, lambda: worker.is_cancelled)
        planned = Planned(project, trouble="The planning was stopped.", early=True)
        try:
            first = first_plan(project, trimmer, watch)
            if first:
                planned = Planned(project, first, early=True)
                self._app.post_message(PlanFound(worker, planned))
            planned = Planned(project, make_plan(project, trimmer, watch))
        except PlanningError as error:
            planned = Planned(project, trouble=str(error))
        except Cancelled:
            pass
        self._app.post_message(PlanningEnded(worker, planned))

    def _deal(self, project: Project, plan: "Plan", *, anew: bool) -> None:
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
