"""What single changes would make the paper enough, shown as they are found."""

from textual import on, work
from textual.content import Content
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from workbench.app.session import Session
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning import Plan


class ChangeList(Static):
    """Looks for changes while a plan that is short is shown; takes no row for any other."""

    DEFAULT_CSS = "ChangeList { height: auto; max-height: 6; padding: 0 1; }"

    class Found(Message):
        """One more change would be enough, or (None) there are no more."""

        def __init__(self, plan: Plan, words: str | None) -> None:
            super().__init__()
            self.plan, self.words = plan, words

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id, markup=False)
        self._asked: tuple[Plan | None, Trimmer | None] = (None, None)
        self._words: list[str] = []
        self._looking = False
        self.display = False

    def show(self, session: Session, trimmer: Trimmer, *, settled: bool) -> None:
        """Look for changes once the plan is `settled` and no better one is looked for."""
        plan = session.plan if settled else None
        if (plan, trimmer) == self._asked:
            return
        self._asked, self._words = (plan, trimmer), []
        self._looking = bool(plan and plan.shortages)
        if plan and plan.shortages:
            self._look(session.project, trimmer, plan)
        else:
            self.workers.cancel_node(self)
        self._write()

    @work(thread=True, exclusive=True)
    def _look(self, project: Project, trimmer: Trimmer, plan: Plan) -> None:
        """Runs in a thread: it only posts messages."""
        from workbench.planning import Cancelled, Watch, find_suggestions

        worker = get_current_worker()
        try:
            for change in find_suggestions(
                project, trimmer, Watch(stop=lambda: worker.is_cancelled)
            ):
                self.post_message(self.Found(plan, change.words))
        except Cancelled:
            return
        self.post_message(self.Found(plan, None))

    @on(Found)
    def _take_note(self, message: Found) -> None:
        message.stop()
        if message.plan is not self._asked[0]:
            return
        if message.words is None:
            self._looking = False
        else:
            self._words.append(message.words)
        self._write()

    def _write(self) -> None:
        self.display = self._looking or bool(self._words)
        more = " …" if self._looking else ""
        if self._words:
            words = f"Any one of these would make it enough: {'; '.join(self._words)}{more}"
        else:
            words = "Looking for a change that would make it enough …"
        self.update(Content(words))
