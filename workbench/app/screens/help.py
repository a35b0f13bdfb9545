"""What the screen below is for, and what every key does there."""

from collections.abc import Iterable
from itertools import groupby

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widgets import Footer, Static

from workbench.app.commands import EVERYWHERE, KEY_NAMES, ROOMS, CloseForm, all_commands, bindings


class HelpScreen(ModalScreen[None]):
    """Reads the keys that are in force on `asked`, so that it cannot drift from them."""

    BINDINGS = bindings((CloseForm,))

    def __init__(self, asked: Screen[object]) -> None:
        super().__init__()
        self.asked = asked

    def compose(self) -> ComposeResult:
        with VerticalScroll(classes="form"):
            about = getattr(self.asked, "ABOUT", "")
            yield Static(Content(about), markup=False)
            for group, lines in groupby(_keys(self.asked), key=lambda line: line[0]):
                yield Static(Content(f"\n{group}"), classes="heading", markup=False)
                yield Static(_table(lines))
        yield Footer(show_command_palette=False)

    def action_close_form(self) -> None:
        self.dismiss()


def _keys(screen: Screen[object]) -> list[tuple[str, str, str]]:
    """Group, keys and help of each command in force on `screen`, in the order of commands.py."""
    keys: dict[str | None, list[str]] = {}
    for key, active in screen.active_bindings.items():
        keys.setdefault(active.binding.id, []).append(KEY_NAMES.get(key, key))
    in_force = [command for command in all_commands() if command.name in keys]
    # What is special to the screen comes first; a command written elsewhere joins its group.
    groups = list(dict.fromkeys(command.group for command in in_force))
    groups.sort(key=lambda group: group in (ROOMS, EVERYWHERE))
    in_force.sort(key=lambda command: groups.index(command.group))
    return [(command.group, " ".join(keys[command.name]), command.help()) for command in in_force]


def _table(lines: Iterable[tuple[str, str, str]]) -> Table:
    table = Table.grid(padding=(0, 2))
    table.add_column(width=9, justify="right")
    for _, keys, help_ in lines:
        table.add_row(Text(keys, "bold"), Text(help_))
    return table
