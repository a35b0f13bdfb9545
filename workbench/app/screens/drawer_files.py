"""The drawer in and out of files: stock taken in and written, the workshop kept and put back."""

import asyncio
from collections.abc import Sequence
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

from textual import getters, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Button, Log, OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import CloseForm, KeepForm, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.questions import PathQuestion, Question
from workbench.measure.counting import counted
from workbench.store.errors import visible

if TYPE_CHECKING:
    from workbench.store.backup import Backup
    from workbench.store.drawer import Drawer
    from workbench.store.stock_preview import Preview, RowPreview

_FORMATS = ".csv or .toml"
_ANOTHER = "another"
_WIDTH = 66


class ImportScreen(ModalView[bool]):
    """Shows what becomes of each row of `path`; gives whether to take them in."""

    CSS_PATH = "drawer_files.tcss"
    BINDINGS = bindings((KeepForm, CloseForm))
    ABOUT = (
        "What becomes of each row of the file: added, described anew, counted again, as it is, or"
        " refused, and why. Those refused stand first; while there is one nothing is taken in. A"
        " blank cell leaves what the drawer says. All that is taken in can be taken back in one go."
    )

    def __init__(self, path: Path, found: "Preview") -> None:
        super().__init__()
        self.path, self.found = path, found

    def compose(self) -> ComposeResult:
        refused = bool(self.found.refused)
        with Vertical(classes="form"):
            yield Static(Content(f"Take in {visible(self.path.name)}"), classes="heading")
            yield Static(Content(self.found.in_words))
            yield Log(id="fates")
            yield Static(
                Content(
                    "Put right what is refused, then take the file in again." if refused else ""
                ),
                classes="wrong",
            )
            with Horizontal(classes="buttons"):
                yield Button("Take it in", id="keep", compact=True, disabled=refused)
                yield Button("Close", id="close", compact=True)
        yield Keys(show_command_palette=False)

    def on_mount(self) -> None:
        rows = sorted(self.found.rows, key=lambda row: row.fate != "refused")
        self.query_one(Log).write_lines(line for row in rows for line in _fate(row))
        self.query_one(Log).scroll_home(animate=False)
        self.query_one("#close" if self.found.refused else "#keep").focus()

    @on(Button.Pressed, "#keep")
    def action_keep_form(self) -> None:
        if not self.found.refused:
            self.dismiss(True)

    @on(Button.Pressed, "#close")
    def action_close_form(self) -> None:
        self.dismiss(False)


class RestoreScreen(ModalView[Path | None]):
    """Gives the backup that was chosen, or that of a path."""

    CSS_PATH = "drawer_files.tcss"
    BINDINGS = bindings((CloseForm,))
    ABOUT = (
        "The backups that were made by themselves, one a day and one before a newer Trimtally"
        " first opened the workshop, the latest first; or a file that you kept elsewhere. What is"
        " there now is moved aside, not removed."
    )
    app = getters.app(WorkbenchApp)

    def __init__(self, backups: "Sequence[Backup]") -> None:
        super().__init__()
        self.backups = backups

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content("Put a backup back"), classes="heading")
            made = (f"{one.made.astimezone():%d %b %Y, %H:%M}" for one in self.backups)
            yield OptionList(*made, Option("a file of yours, by its path", _ANOTHER), compact=True)
        yield Keys(show_command_palette=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        if event.option_id == _ANOTHER:
            question = PathQuestion("Put back the workshop in", None, "Look", ".sqlite")
            self.app.push_screen(question, self._take)
        else:
            self.dismiss(self.backups[event.option_index].path)

    def _take(self, path: Path | None) -> None:
        if path:
            self.dismiss(path)

    def action_close_form(self) -> None:
        self.dismiss(None)


async def take_in(app: WorkbenchApp, drawer: "Drawer") -> None:
    """Ask for a file of stock, show the fate of each row, and take it in. Raises StoreError."""
    from workbench.store.pricing import pricing_of
    from workbench.store.stock_preview import preview

    path = await app.push_screen_wait(PathQuestion("Take in a file", None, "Look", _FORMATS))
    if path is None:
        return
    known = drawer.known() if drawer.workshop.exists else ()
    currency = pricing_of(drawer.workshop).currency
    found = await asyncio.to_thread(preview, path, known, unit=app.unit, currency=currency)
    if await app.push_screen_wait(ImportScreen(path, found)):
        await asyncio.to_thread(drawer.take_in, found)
        app.notify(f"Taken in: {found.in_words}.", markup=False)


async def write_out(app: WorkbenchApp, drawer: "Drawer") -> None:
    """Ask for a file, and write what is free to it. Raises StoreError."""
    from workbench.store.stock_export import export

    there = Path.cwd() / "stock.csv"
    path = await _new_file(app, PathQuestion("Write the stock to", there, "Write", _FORMATS))
    if path:
        papers, lots = await asyncio.to_thread(export, drawer, path)
        said = f"{counted(papers, 'paper')} and {counted(lots, 'kind')} of offcuts"
        app.notify(f"{said} are in {path}", markup=False)


async def back_up(app: WorkbenchApp) -> None:
    """Ask for a file, and copy the whole workshop to it. Raises StoreError."""
    from workbench.store.backup import back_up as copy

    there = Path.cwd() / "trimtally-backup.sqlite"
    path = await _new_file(app, PathQuestion("Copy the whole workshop to", there, "Copy"))
    if path:
        await asyncio.to_thread(copy, app.workshop.file, path)
        app.notify(f"The workshop is kept in {path}", markup=False)


async def restore(app: WorkbenchApp) -> None:
    """Ask for a backup, and put it in the place of the workshop. Raises StoreError."""
    from workbench.store.backup import backups
    from workbench.store.backup import restore as put_back

    file = app.workshop.file
    path = await app.push_screen_wait(RestoreScreen(backups(file)))
    if path is None:
        return
    question = f"Put {path.name} in the place of the workshop, with all its batches and stock?"
    answers = {"keep": "Leave it", "restore": "Put it back"}
    if await app.push_screen_wait(Question(question, answers)) == "restore":
        with app.workshop_let_go():
            aside = await asyncio.to_thread(put_back, file, path)
        app.read_preferences_anew()
        where = f" What was there lies in {aside}" if aside else ""
        app.notify(f"The workshop is that of {path.name}.{where}", markup=False)


async def _new_file(app: WorkbenchApp, question: PathQuestion) -> Path | None:
    """The file that is asked for; where there is one, only if it may be replaced."""
    path = await app.push_screen_wait(question)
    if path is None or not path.exists():
        return path
    answers = {"keep": "Keep it", "replace": "Replace it"}
    asked = Question(f"There is already a file {path}.", answers)
    return path if await app.push_screen_wait(asked) == "replace" else None


def _fate(row: "RowPreview") -> list[str]:
    name = f": {row.name}" if row.name else ""
    words = f"{row.place}{name}: {row.fate}" + (f" ({row.why})" if row.why else "")
    return wrap(visible(words), _WIDTH, subsequent_indent="    ")
