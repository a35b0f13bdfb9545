"""What was made: finished batches, and a year in figures."""

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    CloseForm,
    GiveCard,
    MakeAgain,
    NextYear,
    YearBefore,
    bindings,
)
from workbench.app.views import View
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.questions import TextQuestion
from workbench.craft.errors import CraftError
from workbench.drawing.year import chart
from workbench.making.words import how_different, listed
from workbench.measure.counting import counted
from workbench.measure.length import MeasureError
from workbench.measure.numerals import read_whole
from workbench.store.errors import StoreError

if TYPE_CHECKING:
    from workbench.making.costs import Cost
    from workbench.store.made import Made


class MadeScreen(View[None]):
    """The year above; below a list, and the record of the batch at hand."""

    CSS_PATH = "made.tcss"
    BINDINGS = bindings((YearBefore, NextYear, MakeAgain, GiveCard, CloseForm))
    ABOUT = (
        "Every batch you finished, with its papers, slips, minutes, notes and cost, and the year in"
        " figures: cards made, sheets opened, what of them went to waste, minutes at the table. The"
        " chart shows the cards of each month."
    )
    app = getters.app(WorkbenchApp)

    class Read(Message):
        """The batches were read."""

        def __init__(self, made: "tuple[Made, ...]") -> None:
            super().__init__()
            self.made = made

    def __init__(self) -> None:
        super().__init__()
        self._made: tuple[Made, ...] = ()
        self._year = datetime.now().astimezone().year

    def compose(self) -> ComposeResult:
        yield Static(Content("What was made"), classes="heading", id="title")
        yield Static(id="year", markup=False)
        with Horizontal(id="both"):
            yield OptionList(id="list", markup=False, compact=True)
            with VerticalScroll(id="record", can_focus=False):
                yield Static(id="told", markup=False)
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()
        self._read()

    @work(thread=True, exclusive=True, group="made")
    def _read(self) -> None:
        from workbench.store.made import all_made

        try:
            made = tuple(all_made(self.app.workshop)) if self.app.workshop.exists else ()
        except StoreError as error:
            self.app.call_from_thread(self.app.say_wrong, str(error))
            made = ()
        self.post_message(self.Read(made))

    @on(Read)
    def _take_up(self, message: Read) -> None:
        self._made = message.made
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        options.clear_options()
        options.add_options([Option(Content(_line(one))) for one in self._made])
        if self._made:
            options.highlighted = min(at, len(self._made) - 1)
        else:
            self.query_one("#told", Static).update("No batch is finished yet.")
        self._show_year()

    def _show_year(self) -> None:
        from workbench.store.made import by_month, of_year

        months = by_month(self._made, self._year)
        year = of_year(months)
        words = (
            f"{self._year}: {counted(year.cards, 'card')} of {counted(year.sheets, 'sheet')},"
            f" {round(100 * year.waste)} % of their paper wasted,"
            f" {counted(year.minutes, 'minute')} at the table"
        )
        lines = (words, "", *chart([month.cards for month in months]))
        self.query_one("#year", Static).update(Content("\n".join(lines)))

    @on(OptionList.OptionHighlighted)
    def _tell(self) -> None:
        if one := self._at_hand():
            from workbench.store.drawer import Drawer
            from workbench.store.made import batch_cost

            lines = list(_record(one))
            try:
                cost = batch_cost(Drawer(self.app.workshop), self.app.workshop.batch(one.id))
                lines += _cost(cost)
            except (StoreError, CraftError) as error:
                lines.append(str(error))
            self.query_one("#told", Static).update(Content("\n".join(lines)))

    def _at_hand(self) -> "Made | None":
        at = self.query_one(OptionList).highlighted
        return None if at is None or at >= len(self._made) else self._made[at]

    def action_year_before(self) -> None:
        self._year -= 1
        self._show_year()

    def action_next_year(self) -> None:
        self._year += 1
        self._show_year()

    def action_make_again(self) -> None:
        from workbench.app.opening import begin_project
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import fresh_stock

        one = self._at_hand()
        if one is None:
            return
        if self.app.session is not None:
            self.notify("Close the open project first.", markup=False)
            return
        try:
            drawer = Drawer(self.app.workshop)
            project = fresh_stock(drawer, self.app.workshop.batch(one.id).project)
        except StoreError as error:
            self.app.say_wrong(str(error))
            return
        self.dismiss()
        begin_project(self.app, project)

    @work
    async def action_give_card(self) -> None:
        from workbench.store.made import give

        one = self._at_hand()
        if one is None:
            return
        question = f"Which card went to whom? A number from 1 to {one.cards}, then a name"
        typed = await self.app.push_screen_wait(TextQuestion(question))
        if typed is None:
            return
        number, _, name = typed.partition(" ")
        try:
            give(self.app.workshop, one.id, read_whole(number, one.cards, least=1), name.strip())
        except (MeasureError, StoreError) as error:
            self.app.say_wrong(str(error))
        self._read()

    def action_close_form(self) -> None:
        self.dismiss()


def _line(one: "Made") -> str:
    return f"{one.title}\n  {one.finished.astimezone():%d %b %Y}, {counted(one.cards, 'card')}"


def _record(one: "Made") -> Iterator[str]:
    yield one.title
    looks = f", {how_different(one.looks)}" if one.cards > 1 else ""
    taken = counted(one.sheets, "sheet") if one.sheets else "offcuts alone"
    yield f"{counted(one.cards, 'card')}{looks}, of {taken}"
    yield f"from {listed(one.papers)}"
    yield f"{round(100 * one.waste)} % of the paper wasted, {counted(one.minutes, 'minute')}"
    yield from (f"Slip, {slip}." for slip in one.slips)
    yield from (f"Note: {note}" for note in one.notes)
    yield from (f"Card {card} went to {name}." for card, name in one.recipients.items())


def _cost(cost: "Cost") -> Iterator[str]:
    if not cost.lines:
        return
    yield ""
    yield from (f"{name}: {money}" for name, money in cost.rounded)
    yield f"together {cost.whole}, a card {cost.by_card[0]}; ask {cost.to_ask}"
    if cost.unpriced:
        yield f"without a price: {listed(cost.unpriced)}"
