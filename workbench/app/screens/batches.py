"""Every batch there is, with the record of the one at hand: put away, removed, gone on with."""

from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from textual import getters, on
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    AbandonBatch,
    AdoptBatch,
    CloseForm,
    GoToBench,
    PutBatchAway,
    RemoveBatch,
    bindings,
)
from workbench.app.messages import BatchChosen
from workbench.app.views import View
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.questions import Question
from workbench.making.history import dated, history_of, told
from workbench.making.stock_update import each_in_words
from workbench.making.words import listed
from workbench.store.errors import StoreError

if TYPE_CHECKING:
    from workbench.store.batch_rows import Batch, BatchLine


class BatchList(OptionList):
    """The batches, each with where it stands."""

    BINDINGS = bindings((GoToBench,))

    def action_go_to_bench(self) -> None:
        self.action_select()


class BatchesScreen(View[None]):
    """One list of them; Enter or a click goes to the bench."""

    CSS_PATH = "batches.tcss"
    BINDINGS = bindings((PutBatchAway, AbandonBatch, AdoptBatch, RemoveBatch, CloseForm))
    ABOUT = (
        "Every batch you began: unfinished ones first, then finished ones, then those put away."
        " Beside the list stands its record. Choose one to go to its bench. Putting away only"
        " takes it off the start page; removing forgets it for good."
    )
    app = getters.app(WorkbenchApp)

    def __init__(self) -> None:
        super().__init__()
        self._lines: Sequence[BatchLine] = ()
        self._told: Batch | None = None

    def compose(self) -> ComposeResult:
        yield Static(Content("Batches"), classes="heading", id="title")
        with Horizontal(id="both"):
            yield BatchList(id="list", markup=False, compact=True)
            with VerticalScroll(id="record", can_focus=False):
                yield Static(id="told", markup=False)
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        self.watch(self.app, "unit", self._tell, init=False)

    def on_screen_resume(self) -> None:
        self._fill()

    def action_close_form(self) -> None:
        self.dismiss()

    def action_put_batch_away(self) -> None:
        if line := self._at_hand():
            self._change(lambda: self.app.workshop.put_away(line.id, away=not line.away))

    def action_abandon_batch(self) -> None:
        line = self._at_hand()
        if line is None or line.over:
            return
        question = f"Give “{line.title}” up? Its paper goes back to the drawer it came from."
        answers = {"keep": "Keep on with it", "abandon": "Give it up"}

        def answered(answer: str | None) -> None:
            if answer == "abandon":
                self._change(lambda: self._abandon(line.id))

        self.app.push_screen(Question(question, answers), answered)

    def _abandon(self, batch_id: int) -> None:
        from workbench.making.batch import abandoning, replay

        batch = self.app.workshop.batch(batch_id)
        event = abandoning(replay(batch.plan, batch.events), datetime.now(UTC))
        self.app.workshop.append(batch_id, event, len(batch.events) + 1)

    def action_adopt_batch(self) -> None:
        if line := self._at_hand():
            self._change(lambda: self._adopt(line.id))

    def _adopt(self, batch_id: int) -> None:
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import adopt_batch

        papers = adopt_batch(Drawer(self.app.workshop), batch_id)
        self.notify(f"It draws on the drawer: {listed(sorted(papers))}.", markup=False)

    def action_remove_batch(self) -> None:
        line = self._at_hand()
        if line is None:
            return
        question = f"Remove “{line.title}” and its record for good?"
        answers = {"keep": "Keep it", "remove": "Remove it"}

        def answered(answer: str | None) -> None:
            if answer == "remove":
                self._change(lambda: self.app.workshop.remove_batch(line.id))

        self.app.push_screen(Question(question, answers), answered)

    @on(OptionList.OptionSelected)
    def _go_on(self, event: OptionList.OptionSelected) -> None:
        self.post_message(BatchChosen(self._lines[event.option_index].id))

    @on(OptionList.OptionHighlighted)
    def _show_record(self, event: OptionList.OptionHighlighted) -> None:
        try:
            self._told = self.app.workshop.batch(self._lines[event.option_index].id)
        except StoreError as error:
            self._told = None
            self.query_one("#told", Static).update(Content(str(error)))
            return
        if self.app.session is None:
            self.app.show_in(self._told.project.units)
        self._tell()

    def _at_hand(self) -> "BatchLine | None":
        at = self.query_one(OptionList).highlighted
        return None if at is None else self._lines[at]

    def _change(self, change: Callable[[], None]) -> None:
        try:
            change()
        except StoreError as error:
            self.app.say_wrong(str(error))
        self._fill()

    def _fill(self) -> None:
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        try:
            lines = self.app.workshop.batches() if self.app.workshop.exists else ()
        except StoreError as error:
            self.app.say_wrong(str(error))
            lines = ()
        self._lines = sorted(lines, key=lambda line: line.away)
        options.clear_options()
        options.add_options([Option(Content(_in_a_line(line))) for line in self._lines])
        options.focus()
        if self._lines:
            options.highlighted = min(at, len(self._lines) - 1)
        else:
            self._told = None
            self.query_one("#told", Static).update("No batch was begun yet.")

    def _tell(self) -> None:
        if self._told:
            words = "\n".join(self._record(self._told))
            self.query_one("#told", Static).update(Content(words))

    def _record(self, batch: "Batch") -> Iterator[str]:
        history = history_of(batch.started, batch.project, batch.plan, batch.events)
        yield batch.project.title
        yield str(batch.path) if batch.path else "no project file"
        yield ""
        yield from dated(history)
        yield from told(history)
        graduation = self.app.trimmer().graduations[self.app.unit]
        for offcut in history.stocked:
            yield f"In the stock: {each_in_words(offcut, graduation)}."


def _in_a_line(line: "BatchLine") -> str:
    ended = "abandoned" if line.abandoned else "finished"
    state = ended if line.over else f"{line.done} of {line.steps} steps done"
    return f"{line.title}\n  {state}{', put away' if line.away else ''}"
