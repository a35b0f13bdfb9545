"""What the screen below is for, and what every key does there."""

from collections.abc import Iterable
from itertools import groupby

from rich.table import Table
from rich.text import Text
from textual import getters
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    BETWEEN_PAGES,
    EVERYWHERE,
    CloseForm,
    Command,
    bindings,
    commands_in_force,
)
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys


class HelpScreen(ModalView[None]):
    """Reads the keys that are in force on `asked`, so that it cannot drift from them."""

    BINDINGS = bindings((CloseForm,))
    app = getters.app(WorkbenchApp)

    def __init__(self, asked: Screen[object]) -> None:
        super().__init__()
        self.asked = asked

    def compose(self) -> ComposeResult:
        with VerticalScroll(classes="form"):
            about = getattr(self.asked, "ABOUT", "")
            yield Static(Content(about), markup=False)
            commands = groups_first(commands_in_force(self.asked))
            for group, members in groupby(commands, key=lambda command: command.group):
                yield Static(Content(f"\n{group}"), classes="heading", markup=False)
                yield Static(self._table(members))
        yield Keys(show_command_palette=False)

    def action_close_form(self) -> None:
        self.dismiss()

    def _table(self, commands: Iterable[type[Command]]) -> Table:
        table = Table.grid(padding=(0, 2))
        table.add_column(width=9, justify="right")
        for command in commands:
            table.add_row(Text(self.app.keys_of(command), "bold"), Text(command.help()))
        return table


def groups_first(commands: Iterable[type[Command]]) -> list[type[Command]]:
    """Group by group, what is special to the screen first, what holds everywhere last."""
    commands = list(commands)
    groups = list(dict.fromkeys(command.group for command in commands))
    groups.sort(key=lambda group: group in (BETWEEN_PAGES, EVERYWHERE))
    return sorted(commands, key=lambda command: groups.index(command.group))
