"""Plans side by side, for the maker to pick one."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from workbench.app.base import WorkbenchApp
from workbench.app.commands import ChoiceBefore, CloseForm, NextChoice, PickPlan, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.plan_column import PlanColumn
from workbench.craft.pace import Pace
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.pace import pace_words
from workbench.measure.length import Unit
from workbench.planning import Plan, Sheet

if TYPE_CHECKING:
    from workbench.planning import Alternative


class ChoicesScreen(ModalView["Alternative | None"]):
    """Finds the plans that differ and shows them; gives the one picked, None for none."""

    CSS_PATH = "choices.tcss"
    BINDINGS = bindings((PickPlan, ChoiceBefore, NextChoice, CloseForm))
    ABOUT = (
        "Up to four plans of this batch, all from as few sheets: the quickest at the trimmer, one"
        " that sets the guide least often, one of the fewest cuts, one that keeps the largest"
        " offcut. Only plans that truly differ are shown, by the sheets that the others cut in"
        " another way. Minutes are counted at your own pace once it is known. What you pick is"
        " kept with the project; a batch that is begun keeps its plan."
    )

    class Begun(Message):
        """The planner, in its thread, began a stage."""

        def __init__(self, stage: str) -> None:
            super().__init__()
            self.stage = stage

    class Found(Message):
        """All the plans there are to choose from."""

        def __init__(self, found: "Sequence[Alternative]") -> None:
            super().__init__()
            self.found = found

    app = getters.app(WorkbenchApp)

    def __init__(self, project: Project, trimmer: Trimmer, pace: Pace, unit: Unit) -> None:
        super().__init__()
        self.project, self.trimmer, self.pace, self.unit = project, trimmer, pace, unit
        self._choices: Sequence[Alternative] = ()
        self._at = 0

    def compose(self) -> ComposeResult:
        with Vertical(id="choices"):
            yield Static(id="stage", markup=False)
            yield Horizontal(id="plans")
        yield Keys(show_command_palette=False)

    def on_mount(self) -> None:
        self._say("Looking for plans that differ …")
        self._find()

    @work(thread=True, exclusive=True)
    def _find(self) -> None:
        """Runs in a thread: it only posts messages and never touches a widget."""
        from workbench.planning import Cancelled, Watch, find_alternatives

        worker = get_current_worker()

        def say(stage: str) -> None:
            self.post_message(self.Begun(stage))

        try:
            found = find_alternatives(
                self.project, self.trimmer, Watch(say, lambda: worker.is_cancelled), self.pace
            )
        except Cancelled:
            return
        self.post_message(self.Found(found))

    @on(Begun)
    def _say_stage(self, message: Begun) -> None:
        self._say(f"Looking for plans that differ: {message.stage} …")

    @on(Found)
    async def _show_plans(self, message: Found) -> None:
        self._choices = message.found
        plans = [choice.plan for choice in message.found]
        columns = [
            PlanColumn(
                choice,
                _differing(choice.plan, plans),
                self.project,
                self.unit,
                message.found[0].figures if number else None,
            )
            for number, choice in enumerate(message.found)
        ]
        await self.query_one("#plans").mount_all(columns)
        key = self.app.key_of(PickPlan)
        words = (
            f"All from as few sheets. The arrows walk along them; {key} picks the one marked ▸."
            if len(plans) > 1
            else "No other plan of as few sheets is better at anything."
        )
        self._say(f"{words} Minutes at {pace_words(self.pace)}.")
        self._go_to(0)

    def action_next_choice(self) -> None:
        self._go_to(self._at + 1)

    def action_choice_before(self) -> None:
        self._go_to(self._at - 1)

    def action_pick_plan(self) -> None:
        if self._choices:
            self.dismiss(self._choices[self._at])

    def action_close_form(self) -> None:
        self.dismiss(None)

    @on(PlanColumn.Clicked)
    def _bring_to_hand(self, message: PlanColumn.Clicked) -> None:
        self._go_to(self._choices.index(message.choice))

    def _go_to(self, place: int) -> None:
        if self._choices:
            self._at = place % len(self._choices)
        for number, column in enumerate(self.query(PlanColumn)):
            column.at_hand(number == self._at)

    def _say(self, words: str) -> None:
        self.query_one("#stage", Static).update(Content(words))


def _differing(plan: Plan, plans: Sequence[Plan]) -> list[Sheet]:
    """One of each sheets that not all plans cut alike, those first that keep most in one part."""
    shared = set.intersection(*(set(map(_cut, each.sheets)) for each in plans))
    found = {_cut(sheet): sheet for sheet in reversed(plan.sheets)}
    differing = [sheet for cut, sheet in found.items() if len(plans) == 1 or cut not in shared]
    return sorted(differing, key=lambda sheet: (-_most_kept(sheet), sheet.id))


def _cut(sheet: Sheet) -> Sheet:
    """The sheet as it is cut, whatever it is called."""
    return replace(sheet, id="")


def _most_kept(sheet: Sheet) -> Fraction:
    kept = (part for part in sheet.parts if part.role == "offcut")
    return max((part.size.area for part in kept), default=Fraction(0))
