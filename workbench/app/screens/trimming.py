"""The Trimming page: how each sheet is cut, in which order, and the way to the bench."""

from dataclasses import replace
from typing import TYPE_CHECKING

from rich.text import Text
from textual import events, on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Static

from workbench.app.commands import (
    Begin,
    BeginAnother,
    Compare,
    LookDown,
    LookUp,
    NextSheet,
    SheetBefore,
    bindings,
)
from workbench.app.messages import BatchChosen
from workbench.app.screens.choices import ChoicesScreen
from workbench.app.screens.page import PageScreen
from workbench.app.session import Session
from workbench.app.widgets.change_list import ChangeList
from workbench.app.widgets.pictures import Picture
from workbench.app.widgets.plan_line import PlanLine
from workbench.app.widgets.questions import Question
from workbench.app.widgets.step_list import StepList
from workbench.drawing.sheets import draw_sheet
from workbench.making.batch import BatchState, replay
from workbench.making.plan_index import PlanIndex
from workbench.making.words import written_size
from workbench.measure.length import Unit
from workbench.measure.writing import Graduation
from workbench.planning import Plan, Sheet

if TYPE_CHECKING:
    from workbench.store.batch_rows import BatchLine


class TrimmingScreen(PageScreen):
    """Shows the plan of the open project, and the batch of it that is under way."""

    CSS_PATH = "trimming.tcss"
    BINDINGS = bindings((Begin, BeginAnother, Compare, SheetBefore, NextSheet, LookUp, LookDown))
    PAGE = "trimming"
    ABOUT = (
        "How every sheet is cut, and the steps in the order that moves the guide least. Sheets"
        " that are cut alike are shown once. Beginning keeps a copy of project and plan, so that"
        " nothing you change later can harm a batch under way."
    )
    NEEDS_PLAN = True

    class Found(Message):
        """The last batch of this project, and where it stands when it waits to be finished."""

        def __init__(
            self,
            line: "BatchLine | None" = None,
            plan: Plan | None = None,
            state: BatchState | None = None,
        ) -> None:
            super().__init__()
            self.line, self.plan, self.state = line, plan, state

    class Begun(Message):
        """A new batch is in the workshop."""

        def __init__(self, batch_id: int) -> None:
            super().__init__()
            self.batch_id = batch_id

    def __init__(self) -> None:
        super().__init__()
        self._index: PlanIndex | None = None
        self._layout = 0
        self._found = self.Found()

    def body(self) -> ComposeResult:
        yield PlanLine()
        yield ChangeList()
        yield Static(id="batch", markup=False)
        with Horizontal(id="plan"):
            with Vertical(id="sheets"):
                yield Static(id="caption", markup=False)
                yield Picture(id="sheet")
            yield StepList(id="steps")

    def show(self, session: Session, unit: Unit) -> None:
        self.query_one(ChangeList).show(session, self.app.trimmer(), settled=self.app.stage is None)
        if session.plan is None:
            self._index = None
        elif self._index is None or self._index.plan is not session.plan:
            self._index, self._layout = PlanIndex(session.project, session.plan), 0
        self._show_batch()
        self._show_sheet()
        state = self._found.state if self._is_at_bench() else None
        graduation = self.app.trimmer().graduations[unit]
        self.query_one(StepList).show(self._index, graduation, state)

    def on_screen_resume(self) -> None:
        self._look_for_batch()

    # The sheets

    @property
    def _layouts(self) -> tuple[tuple[Sheet, ...], ...]:
        return self._index.layouts if self._index else ()

    def action_next_sheet(self) -> None:
        self._turn(1)

    def action_sheet_before(self) -> None:
        self._turn(-1)

    @on(events.Click, "#sheets, #sheet, #caption")
    def _click(self) -> None:
        self._turn(1)

    def action_look_up(self) -> None:
        self.query_one(StepList).scroll_up()

    def action_look_down(self) -> None:
        self.query_one(StepList).scroll_down()

    def _turn(self, by: int) -> None:
        if self._layouts:
            self._layout = (self._layout + by) % len(self._layouts)
            self._show_sheet()

    def _show_sheet(self) -> None:
        layouts, picture = self._layouts, self.query_one("#sheet", Picture)
        caption = self.query_one("#caption", Static)
        if not layouts or not self._index:
            caption.update(Text())
            picture.show(None)
            return
        alike = layouts[self._layout]
        unit = self.app.unit
        graduation = self.app.trimmer().graduations[unit]
        caption.update(Text(_caption(alike, self._layout + 1, len(layouts), graduation)))
        paper = self._index.project.paper(alike[0].paper)
        picture.show(lambda columns, rows: draw_sheet(alike[0], paper, columns, rows, unit))

    # The plans there are

    @work
    async def action_compare(self) -> None:
        session = self.app.session
        if session is None or session.plan is None or self.app.stage is not None:
            self.notify("There is no finished plan to compare others with yet.", markup=False)
            return
        choices = ChoicesScreen(
            session.project, self.app.trimmer(), session.plan.pace, self.app.unit
        )
        picked = await self.app.push_screen_wait(choices)
        if picked:
            wished = replace(session.project, wish=picked.wish)
            self.app.planning.take(picked.plan, wished)

    # The batch

    def _is_at_bench(self) -> bool:
        """Whether the batch under way is cut by the plan shown here."""
        found = self._found.plan
        if self._index is None or found is None:
            return False
        plan = self._index.plan
        return (plan.sheets, plan.steps) == (found.sheets, found.steps)

    def _show_batch(self) -> None:
        line, words = self._found.line, ""
        if line and line.finished:
            words = f"A batch of it is finished, on {line.worked.astimezone():%d %B %Y}."
        elif line:
            key = self.app.key_of(Begin)
            words = f"Under way: {line.done} of {line.steps} steps done; {key} goes on."
        if line and not line.finished and self._index and not self._is_at_bench():
            words += " It keeps the plan it was begun with, not the one below."
        shown = self.query_one("#batch", Static)
        shown.update(words)
        shown.display = bool(words)

    @work(thread=True, exclusive=True, group="batch")
    def _look_for_batch(self) -> None:
        from workbench.store.errors import StoreError

        session, workshop = self.app.session, self.app.workshop
        if session is None or not workshop.exists:
            return
        try:
            line = next((line for line in workshop.batches() if _is_of(line, session)), None)
            if line is None or line.finished:
                self.post_message(self.Found(line))
                return
            batch = workshop.batch(line.id)
        except StoreError as error:
            self.app.call_from_thread(self.app.say_wrong, str(error))
            return
        state = replay(batch.plan, batch.events)
        plan = PlanIndex(batch.project, batch.plan).after(state).plan
        self.post_message(self.Found(line, plan, state))

    @on(Found)
    def _take_note(self, message: Found) -> None:
        self._found = message
        if self.app.session:
            self.show(self.app.session, self.app.unit)

    @work
    async def action_begin(self) -> None:
        line = self._found.line
        if line and not line.finished:
            self.post_message(BatchChosen(line.id))
        elif line is None or await self._wants_another(line):
            self.action_begin_another()

    async def _wants_another(self, line: "BatchLine") -> bool:
        """Ask, as the finger is still on the key that ticked the last step."""
        question = "This batch is finished."
        answers = {"look": "Look at it", "another": "Begin another", "stay": "Stay here"}
        answer = await self.app.push_screen_wait(Question(question, answers))
        if answer == "look":
            self.post_message(BatchChosen(line.id))
        return answer == "another"

    @work
    async def action_begin_another(self) -> None:
        session = self.app.session
        if session is None or session.plan is None:
            self.notify("There is no plan to cut by yet.", markup=False)
        elif not session.plan.shortages or await self._goes_ahead(session.plan):
            self._create_batch(session, session.plan)

    async def _goes_ahead(self, plan: Plan) -> bool:
        missing = ", ".join(f"{short.sheets} of {short.paper}" for short in plan.shortages)
        question = f"This plan counts sheets that are not on hand yet: {missing}."
        answers = {"begin": "Begin all the same", "wait": "Wait until they are here"}
        return await self.app.push_screen_wait(Question(question, answers)) == "begin"

    @work(thread=True, exclusive=True, group="batch")
    def _create_batch(self, session: Session, plan: Plan) -> None:
        from workbench.store.errors import StoreError

        try:
            batch_id = self.app.workshop.create_batch(session.project, session.path, plan)
        except StoreError as error:
            self.app.call_from_thread(self.app.say_wrong, str(error))
            return
        self.post_message(self.Begun(batch_id))

    @on(Begun)
    def _go_to_bench(self, message: Begun) -> None:
        self.post_message(BatchChosen(message.batch_id))


def _is_of(line: "BatchLine", session: Session) -> bool:
    """Whether it is a batch of the open project that can be gone on with."""
    offered = not (line.away or line.abandoned)
    return offered and (line.title, line.path) == (session.project.title, session.path)


def _caption(alike: tuple[Sheet, ...], number: int, of: int, graduation: Graduation) -> str:
    sheet = alike[0]
    size = written_size(sheet.size, graduation)
    thing = "offcut" if sheet.offcut else "sheet"
    papers = {each.paper: 0 for each in alike}
    for each in alike:
        papers[each.paper] += 1
    counted = ", ".join(f"{count} × {paper}" for paper, count in papers.items())
    return f"{number} of {of}: {thing} {size}\n{counted}"
