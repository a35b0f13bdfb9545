"""What a command is, and what is read off all of them.

A command is a class: its docstring is the help sentence, its name in snake case the action
(`AddPaper` calls `action_add_paper` of the screen that offers it, or of the app for what it does
itself), and also its name in the preference "keys", which gives it other keys.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from textual.binding import ActiveBinding, Binding, BindingType
    from textual.screen import Screen

EVERYWHERE = "Everywhere"
BETWEEN_PAGES = "Going from page to page"
START = "Start page"
BATCHES = "Batches"
DRAWER = "Paper drawer"
POSSIBLE = "What can I make?"
MADE = "What was made"
STOCK = "Stock"
PIECES = "Pieces"
OWN_STEPS = "Steps of your own"
TRIMMING = "Trimming"
COMBINATIONS = "Combinations"
GUIDE = "Guide"
RUN = "At the bench"
FORM = "Forms and questions"
GROUPS = (
    EVERYWHERE,
    BETWEEN_PAGES,
    START,
    BATCHES,
    DRAWER,
    POSSIBLE,
    MADE,
    STOCK,
    PIECES,
    OWN_STEPS,
    TRIMMING,
    COMBINATIONS,
    GUIDE,
    RUN,
    FORM,
)

KEY_NAMES = {
    "space": "space",
    "enter": "enter",
    "escape": "esc",
    "backspace": "backspace",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "question_mark": "?",
}
# Keys that every keyboard has and every terminal sends alike.
KEYS = re.compile(r"[a-zA-Z0-9]|f([1-9]|1[0-2])|" + "|".join(KEY_NAMES))


class Command:
    """What the maker can ask for; subclass it to add one."""

    name: ClassVar[str]
    keys: ClassVar[tuple[str, ...]]
    label: ClassVar[str]
    group: ClassVar[str]
    footer: ClassVar[bool] = True
    of_app: ClassVar[bool] = False

    def __init_subclass__(cls) -> None:
        cls.name = re.sub(r"(?<!^)(?=[A-Z])", "_", cls.__name__).lower()

    @classmethod
    def help(cls) -> str:
        return (cls.__doc__ or "").strip()

    @classmethod
    def binding(cls) -> "Binding":
        from textual.binding import Binding

        return Binding(
            ",".join(cls.keys),
            f"app.{cls.name}" if cls.of_app else cls.name,
            cls.label,
            show=cls.footer,
            tooltip=cls.help(),
            id=cls.name,
        )


def all_commands() -> tuple[type[Command], ...]:
    """Every command there is, group after group."""
    return tuple(sorted(Command.__subclasses__(), key=lambda command: GROUPS.index(command.group)))


def bindings(commands: Iterable[type[Command]]) -> "list[BindingType]":
    return [command.binding() for command in commands]


def commands_in_force(screen: "Screen[object]") -> "dict[type[Command], ActiveBinding]":
    """Every command of ours that can be given on `screen`, in the order of all_commands."""
    active = {
        binding.binding.id: binding
        for binding in screen.active_bindings.values()
        if binding.enabled
    }
    return {command: active[command.name] for command in all_commands() if command.name in active}


def usable_keys(kept: object) -> dict[str, str]:
    """What is usable of the preference "keys": commands we have, with keys every keyboard has."""
    ours = {command.name for command in all_commands()}
    if not isinstance(kept, Mapping):
        return {}
    return {
        name: keys
        for name, keys in kept.items()
        if name in ours
        and isinstance(keys, str)
        and all(KEYS.fullmatch(key) for key in keys.split(","))
    }


def keys_written(keys: Mapping[str, str]) -> str:
    """The maker's own keys on one line: "tick=space,t pause=k"."""
    return " ".join(f"{name}={given}" for name, given in keys.items())


def keys_read(line: str) -> dict[str, str]:
    """The keys that `keys_written` wrote. Raises CraftError."""
    from difflib import get_close_matches

    from workbench.craft.errors import CraftError

    names = {command.name for command in all_commands()}
    found = {}
    for word in line.split():
        name, _, keys = word.partition("=")
        if name not in names:
            near = get_close_matches(name, names, n=1, cutoff=0.5)
            right = f"write as in {near[0] if near else 'tick'}=space,t"
            raise CraftError("keys", f'no command is called "{name}"', right)
        for key in keys.split(","):
            if not KEYS.fullmatch(key):
                right = "use letters, digits, f1 to f12, space, enter, escape or an arrow's name"
                raise CraftError(f"keys, {name}", f'"{key}" is no key that can be used', right)
        found[name] = keys
    _check_shared(found)
    return found


def _check_shared(given: Mapping[str, str]) -> None:
    """Refuse a key of the maker's own that another command of the same screen has. CraftError."""
    from workbench.craft.errors import CraftError

    commands = all_commands()
    keys = {one: given[one.name].split(",") if one.name in given else one.keys for one in commands}
    for mine in commands:
        others = [
            other
            for other in commands
            if other is not mine and other.group in (mine.group, EVERYWHERE)
        ]
        for key in keys[mine] if mine.name in given else ():
            # Every list is looked through by the arrows, and so may be taken by what has none.
            taken = [one for one in others if key in keys[one] and key not in ("up", "down")]
            if taken:
                raise CraftError(
                    f"keys, {mine.name}",
                    f'"{key}" is the key of {taken[0].name} there',
                    f"choose another, or give {taken[0].name} one of its own too",
                )


def key_list() -> Iterator[str]:
    """The rows of the table of keys in DEVELOPERS.md."""
    for command in all_commands():
        keys = " ".join(f"`{KEY_NAMES.get(key, key)}`" for key in command.keys)
        yield f"| {command.group} | {keys} | `{command.name}` | {command.help()} |"
