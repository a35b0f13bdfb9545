"""The paper drawer: every paper and offcut the maker owns, searched as one types."""

from collections.abc import Callable, Coroutine, Sequence
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import getters, on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    AddStock,
    AddStockOffcut,
    BackUp,
    ChangeStock,
    ChooseStock,
    ClearOut,
    CloseForm,
    CopyStock,
    CountStock,
    MergeStock,
    RemoveStock,
    Restore,
    SearchStock,
    SetReckoning,
    ShowMade,
    ShowPossible,
    ShowUses,
    SortStock,
    SplitPad,
    TakeInFile,
    UndoStock,
    WriteStock,
    bindings,
)
from workbench.app.screens.drawer_files import back_up, restore, take_in, write_out
from workbench.app.screens.drawer_words import row_words
from workbench.app.views import View
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.questions import Question, TextQuestion
from workbench.app.widgets.stock_list import StockList
from workbench.craft.errors import CraftError
from workbench.craft.paper import MOST_SHEETS
from workbench.craft.stock import LeastUseful
from workbench.drawing.prints import swatch
from workbench.making.costs import Pricing
from workbench.measure.counting import counted
from workbench.measure.length import MeasureError
from workbench.measure.numerals import read_whole
from workbench.store.drawer_rows import ORDERS, DrawerRow, Order, found, in_order, rows_of
from workbench.store.errors import StoreError

if TYPE_CHECKING:
    from workbench.store.drawer import Drawer


class StockSearch(View[int | None]):
    """The list of the drawer with its search; what is read of it comes in a thread."""

    CSS_PATH = "drawer.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings((SearchStock, SortStock, CloseForm))
    TITLE_WORDS = "Paper drawer"
    FIRST_ORDER: Order = "name"
    app = getters.app(WorkbenchApp)

    class Read(Message):
        """The drawer was read."""

        def __init__(self, rows: Sequence[DrawerRow]) -> None:
            super().__init__()
            self.rows = rows

    def __init__(self) -> None:
        super().__init__()
        self._rows: Sequence[DrawerRow] = ()
        self._order = ORDERS.index(self.FIRST_ORDER)

    @property
    def drawer(self) -> "Drawer":
        from workbench.store.drawer import Drawer

        return Drawer(self.app.workshop)

    @property
    def stock_list(self) -> StockList:
        return self.query_one(StockList)

    def compose(self) -> ComposeResult:
        yield Static(Content(self.TITLE_WORDS), classes="heading", id="title")
        yield Input(placeholder="search", id="search", compact=True)
        yield StockList(id="rows")
        with Horizontal(id="at-hand"):
            yield Static(id="swatch", markup=False)
            yield Static(id="words", markup=False)
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        if self.app.session is None:
            self.app.show_in("in")
        self.watch(self.app, "unit", self._show, init=False)
        self.stock_list.focus()
        self._read()

    @work(thread=True, exclusive=True, group="drawer")
    def _read(self) -> None:
        try:
            rows = rows_of(self.drawer.listing()) if self.app.workshop.exists else ()
        except StoreError as error:
            self.app.call_from_thread(self.app.say_wrong, str(error))
            rows = ()
        self.post_message(self.Read(rows))

    @on(Read)
    def _take_up(self, message: Read) -> None:
        self._rows = message.rows
        self._show()

    @on(Input.Changed)
    def _show(self) -> None:
        typed = self.query_one(Input).value
        rows = in_order(found(self._rows, typed), ORDERS[self._order])
        self.stock_list.show(rows, self.app.unit)
        papers = sum(row.offcut is None for row in rows)
        words = f"{counted(papers, 'paper')}, {counted(len(rows) - papers, 'kind')} of offcuts"
        order = ORDERS[self._order]
        title = f"{self.TITLE_WORDS}: {words}" + ("" if order == "name" else f", by {order}")
        self.query_one("#title", Static).update(Content(title))

    @on(Input.Submitted)
    def _to_the_list(self) -> None:
        self.stock_list.focus()

    @on(StockList.Moved)
    def _tell(self) -> None:
        row = self.stock_list.at_hand
        picture, words = Text(), self.nothing()
        if row:
            try:
                picture = swatch(row.paper.paper.paper, 18, 4).to_text()
                words = "\n".join(row_words(row, self.app.unit))
            except (CraftError, MeasureError) as error:
                words = str(error)
        self.query_one("#swatch", Static).update(picture)
        self.query_one("#words", Static).update(Content(words))

    def nothing(self) -> str:
        """What to say while there is no row at hand."""
        return "There is nothing here."

    def action_search_stock(self) -> None:
        self.query_one(Input).focus()

    def action_sort_stock(self) -> None:
        self._order = (self._order + 1) % len(ORDERS)
        self._show()

    def action_close_form(self) -> None:
        if isinstance(self.focused, Input):
            self.focused.value = ""
            self.stock_list.focus()
        else:
            self.dismiss(None)


class TakeScreen(StockSearch):
    """Gives the id of the paper that was chosen for a project."""

    TITLE_WORDS = "Take a paper from the drawer"
    FIRST_ORDER = "offcuts"
    BINDINGS = bindings((ChooseStock,))
    ABOUT = (
        "Choose a paper of the drawer for this project: Enter takes it. The project keeps all that"
        " is known of it, so that its file does without the drawer; those with offcuts stand first,"
        " as offcuts are used before a sheet is opened. How many sheets are free is"
        " asked of the drawer whenever you plan."
    )

    @on(StockList.Chosen)
    def action_choose_stock(self) -> None:
        if row := self.stock_list.at_hand:
            self.dismiss(row.paper.id)


class DrawerScreen(StockSearch):
    """The drawer itself, where everything in it is changed."""

    BINDINGS = bindings(
        (
            *(AddStock, ChangeStock, CopyStock, CountStock, AddStockOffcut, SplitPad, MergeStock),
            *(RemoveStock, UndoStock, ShowUses, ShowPossible, ShowMade),
            *(SetReckoning, ClearOut, TakeInFile, WriteStock, BackUp, Restore),
        )
    )
    ABOUT = (
        "Every paper you own and every offcut worth keeping, whichever project uses it. Beginning"
        " a batch holds its sheets, cutting uses them, and what is left comes back as offcuts."
        " Every change made here by hand can be taken back."
    )

    def nothing(self) -> str:
        if self._rows:
            return "Nothing is called that."
        return f"The drawer is empty: put a paper in with {self.app.key_of(AddStock)}."

    @work
    async def action_add_stock(self) -> None:
        await self._fill_in(None, None)

    @work
    async def action_copy_stock(self) -> None:
        if row := self.stock_list.at_hand:
            await self._fill_in(None, row)

    @on(StockList.Chosen)
    def action_change_stock(self) -> None:
        self._change_at_hand()

    @work
    async def _change_at_hand(self) -> None:
        row = self.stock_list.at_hand
        if row and row.offcut:
            self.action_count_stock()
        elif row:
            await self._fill_in(row.paper.id, row)

    async def _fill_in(self, paper_id: int | None, row: DrawerRow | None) -> None:
        from workbench.app.screens.drawer_forms import StockForm
        from workbench.store.pricing import pricing_of

        try:
            currency = pricing_of(self.app.workshop).currency
        except StoreError as error:
            self.app.say_wrong(str(error))
            return
        stock = row.paper.paper if row else None
        form = StockForm(self.app.unit, currency, stock, counted=paper_id is None)
        read = await self.app.push_screen_wait(form)
        if read and paper_id is None:
            self._change(lambda: self.drawer.add(read))
        elif read and paper_id is not None:
            self._change(lambda: self.drawer.change(paper_id, read))

    @work
    async def action_count_stock(self) -> None:
        row = self.stock_list.at_hand
        if row is None:
            return
        thing = "offcuts" if row.offcut else "sheets"
        question = f"How many free {thing} of “{row.paper.data.name}” are there?"
        typed = await self.app.push_screen_wait(TextQuestion(question))
        if typed is None:
            return
        try:
            found = read_whole(typed, MOST_SHEETS)
        except MeasureError as error:
            self.app.say_wrong(f"{thing}: {error}")
            return
        if row.offcut:
            lot = row.offcut.id
            self._change(lambda: self.drawer.count_offcuts(lot, found))
        else:
            self._change(lambda: self.drawer.count(row.paper.id, found))

    @work
    async def action_add_stock_offcut(self) -> None:
        from workbench.app.screens.drawer_forms import StockOffcutForm

        if row := self.stock_list.at_hand:
            paper = row.paper.paper.paper
            form = StockOffcutForm(self.app.unit, paper.name, paper.size)
            if read := await self.app.push_screen_wait(form):
                self._change(lambda: self.drawer.add_offcuts(row.paper.id, read.size, read.count))

    @work
    async def action_split_pad(self) -> None:
        from workbench.app.screens.drawer_forms import SplitForm

        row = self.stock_list.at_hand
        if row and not row.offcut:
            form = SplitForm(self.app.unit, row.counts.on_hand)
            if read := await self.app.push_screen_wait(form):
                self._change(lambda: self.drawer.split(row.paper.id, read.names, read.sheets))

    def action_merge_stock(self) -> None:
        row = self.stock_list.at_hand
        if row is None:
            return
        alike = [
            other.paper.id
            for other in self._rows
            if not other.offcut
            and other.paper.data == row.paper.data
            and other.paper.id != row.paper.id
        ]
        if alike:
            self._change(lambda: self.drawer.merge([row.paper.id, *alike]))
        else:
            self.notify("No other paper is described just like it.", markup=False)

    @work
    async def action_remove_stock(self) -> None:
        row = self.stock_list.at_hand
        if row is None:
            return
        what = f"“{row.paper.data.name}”"
        question = (
            f"Throw away all offcuts of {what} of this size?"
            if row.offcut
            else (f"Take {what} out of the drawer? What is free of it counts as thrown away.")
        )
        answers = {"keep": "Keep it", "remove": "Take it out"}
        if await self.app.push_screen_wait(Question(question, answers)) != "remove":
            return
        if row.offcut:
            lot = row.offcut.id
            self._change(lambda: self.drawer.clear_out([lot]))
        else:
            self._change(lambda: self.drawer.remove(row.paper.id))

    def action_undo_stock(self) -> None:
        def undo() -> None:
            words = self.drawer.undo() if self.app.workshop.exists else None
            said = f"Taken back: {words}." if words else "There is nothing to take back."
            self.notify(said, markup=False)

        self._change(undo)

    def action_show_uses(self) -> None:
        from workbench.app.screens.possible import UsesScreen

        if row := self.stock_list.at_hand:
            self.app.push_screen(UsesScreen(row))

    def action_show_possible(self) -> None:
        from workbench.app.screens.possible import PossibleScreen

        self.app.push_screen(PossibleScreen())

    def action_show_made(self) -> None:
        from workbench.app.screens.made import MadeScreen

        self.app.push_screen(MadeScreen())

    @work
    async def action_set_reckoning(self) -> None:
        from workbench.app.screens.drawer_settings import Reckoning, ReckoningForm
        from workbench.store.pricing import keep_pricing, pricing_of

        try:
            reckoning = Reckoning(pricing_of(self.app.workshop), self.drawer.least_useful)
        except StoreError as error:
            self.app.say_wrong(str(error))
            reckoning = Reckoning(Pricing(), LeastUseful())
        if read := await self.app.push_screen_wait(ReckoningForm(self.app.unit, reckoning)):
            self._change(lambda: keep_pricing(self.app.workshop, read.pricing))
            self._change(lambda: self.drawer.keep_least_useful(read.least))

    @work
    async def action_clear_out(self) -> None:
        from workbench.app.screens.drawer_settings import ClearOutForm

        form = ClearOutForm(self.app.unit, self.drawer.not_worth_keeping)
        if lots := await self.app.push_screen_wait(form):
            self._change(lambda: self.drawer.clear_out(lots))

    @work
    async def action_take_in_file(self) -> None:
        await self._with_files(take_in(self.app, self.drawer))

    @work
    async def action_write_stock(self) -> None:
        await self._with_files(write_out(self.app, self.drawer))

    @work
    async def action_back_up(self) -> None:
        await self._with_files(back_up(self.app))

    @work
    async def action_restore(self) -> None:
        await self._with_files(restore(self.app))

    async def _with_files(self, doing: Coroutine[object, object, None]) -> None:
        try:
            await doing
        except StoreError as error:
            self.app.say_wrong(str(error))
        self._read()

    def _change(self, change: Callable[[], object]) -> None:
        try:
            change()
        except StoreError as error:
            self.app.say_wrong(str(error))
        self._read()
