"""What the screen below is for, and what every key does there."""

from itertools import groupby

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widgets import Footer, Static

from workbench.app.commands import KEY_NAMES, CloseForm, all_commands, bindings


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
                for _, keys, help_ in lines:
                    yield Static(Content.assemble((f"{keys:>11}  ", "bold"), help_), markup=False)
        yield Footer(show_command_palette=False)

    def action_close_form(self) -> None:
        self.dismiss()


def _keys(screen: Screen[object]) -> list[tuple[str, str, str]]:
    """Group, keys and help of each command in force on `screen`, in the order of commands.py."""
    keys: dict[str | None, list[str]] = {}
    for key, active in screen.active_bindings.items():
        keys.setdefault(active.binding.id, []).append(KEY_NAMES.get(key, key))
    in_force = [command for command in all_commands() if command.name in keys]
    # Groups as they come first, so that a command written elsewhere still joins its group.
    order = list(dict.fromkeys(command.group for command in in_force))
    in_force.sort(key=lambda command: order.index(command.group))
    return [(command.group, " ".join(keys[command.name]), command.help()) for command in in_force]
