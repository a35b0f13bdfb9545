"""Every command of the app, said once: keys, footer, palette, help and key list read it here.

A command is a class: its docstring is the help sentence, its name in snake case the action
(`AddPaper` calls `action_add_paper` of the screen that offers it, or of the app for what it does
itself), and also its name in the workshop setting "keys", which gives it other keys.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from textual.binding import Binding, BindingType

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
    """Every command there is, in the order of this file."""
    return tuple(Command.__subclasses__())


def bindings(commands: Iterable[type[Command]]) -> "list[BindingType]":
    return [command.binding() for command in commands]


def usable_keys(kept: object) -> dict[str, str]:
    """What is usable of the setting "keys": commands we have, with keys every keyboard has."""
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


def key_list() -> Iterator[str]:
    """The rows of the table of keys in DEVELOPERS.md."""
    for command in all_commands():
        keys = " ".join(f"`{KEY_NAMES.get(key, key)}`" for key in command.keys)
        yield f"| {command.group} | {keys} | `{command.name}` | {command.help()} |"


EVERYWHERE = "Everywhere"
ROOMS = "Going from room to room"
START = "Start page"
STOCK = "Stock"
PIECES = "Pieces"
TRIMMING = "Trimming"
COMBINATIONS = "Combinations"
RUN = "At the bench"
FORM = "Forms and questions"


class Help(Command):
    """Say what this screen is for, and what every key does."""

    keys, label, group = ("f1", "question_mark"), "Help", EVERYWHERE
    of_app = True


class Palette(Command):
    """Find a command by typing part of its name."""

    keys, label, group = ("f2",), "Find", EVERYWHERE
    of_app = True


class SwitchUnits(Command):
    """Show lengths in millimetres instead of inches, or back."""

    keys, label, group = ("u",), "in/mm", EVERYWHERE
    of_app = True


class LookUp(Command):
    """Look at what stands above in a long list."""

    keys, label, group, footer = ("up",), "Look up", EVERYWHERE, False


class LookDown(Command):
    """Look at what stands below in a long list."""

    keys, label, group, footer = ("down",), "Look down", EVERYWHERE, False


class SwitchLight(Command):
    """Change between the light and the dark look."""

    keys, label, group, footer = ("f3",), "Light/dark", EVERYWHERE, False
    of_app = True


class Leave(Command):
    """Leave Trimtally; a batch under way is always kept, and unsaved changes are asked about."""

    keys, label, group = ("q",), "Leave", EVERYWHERE
    of_app = True


class ShowStock(Command):
    """Show the papers and offcuts of this project."""

    keys, label, group, footer = ("1",), "Stock", ROOMS, False
    of_app = True


class ShowPieces(Command):
    """Show the card and the pieces layered on it."""

    keys, label, group, footer = ("2",), "Pieces", ROOMS, False
    of_app = True


class ShowTrimming(Command):
    """Show how the sheets are cut, and in which order."""

    keys, label, group, footer = ("3",), "Trimming", ROOMS, False
    of_app = True


class ShowCombinations(Command):
    """Show which prints meet on which card."""

    keys, label, group, footer = ("4",), "Combinations", ROOMS, False
    of_app = True


class ShowStart(Command):
    """Go back to the start page and its projects."""

    keys, label, group, footer = ("0",), "Projects", ROOMS, False
    of_app = True


class SaveProject(Command):
    """Save the project in its file."""

    keys, label, group = ("s",), "Save", ROOMS
    of_app = True


class SaveProjectAs(Command):
    """Save the project in another file, which is a way to begin a new one."""

    keys, label, group, footer = ("w",), "Save as", ROOMS, False
    of_app = True


class Undo(Command):
    """Take back the last change of the project; every change since it was opened can be."""

    keys, label, group, footer = ("z",), "Undo", ROOMS, False
    of_app = True


class Redo(Command):
    """Make the change again that was taken back."""

    keys, label, group, footer = ("y",), "Redo", ROOMS, False
    of_app = True


class PlanAgain(Command):
    """Plan the batch now, or again."""

    keys, label, group, footer = ("p",), "Plan", ROOMS, False
    of_app = True


class StopPlanning(Command):
    """Stop the planning that is under way."""

    keys, label, group, footer = ("escape",), "Stop planning", ROOMS, False
    of_app = True


class NewCard(Command):
    """Begin a new card from one of our layouts, in the size of an envelope."""

    keys, label, group = ("n",), "New card", START


class ChooseFile(Command):
    """Open a project by the path of its file."""

    keys, label, group = ("o",), "Open a file", START


class AddPaper(Command):
    """Add a paper to the stock of this project."""

    keys, label, group = ("a",), "Add", STOCK


class AddOffcut(Command):
    """Add an offcut that may be used before a sheet is opened."""

    keys, label, group = ("f",), "Add offcut", STOCK


class ChangePaper(Command):
    """Change the paper or offcut at hand."""

    keys, label, group = ("c", "enter"), "Change", STOCK


class RemovePaper(Command):
    """Remove the paper or offcut at hand, unless a piece is still cut from it."""

    keys, label, group = ("x",), "Remove", STOCK


class AddPiece(Command):
    """Add a piece in front of the one at hand."""

    keys, label, group = ("a",), "Add", PIECES


class ChangePiece(Command):
    """Change the piece at hand, or the card itself."""

    keys, label, group = ("c", "enter"), "Change", PIECES


class RemovePiece(Command):
    """Remove the piece at hand, unless another is glued to it."""

    keys, label, group = ("x",), "Remove", PIECES


class BringForward(Command):
    """Move the piece at hand one layer nearer to the front."""

    keys, label, group = ("f",), "Forward", PIECES


class SendBack(Command):
    """Move the piece at hand one layer nearer to the back."""

    keys, label, group = ("b",), "Back", PIECES


class CopyPiece(Command):
    """Copy the piece at hand; the copy lies just in front of it."""

    keys, label, group, footer = ("d",), "Copy", PIECES, False


class FitPiece(Command):
    """Size the piece at hand by a border, or align it to an edge, the centre or another piece."""

    keys, label, group = ("e",), "Fit", PIECES


class MendPiece(Command):
    """Mend the first doubt about the piece at hand, or else about any other."""

    keys, label, group = ("m",), "Mend", PIECES


class NudgeLeft(Command):
    """Move the piece at hand to the left by one mark of your rule."""

    keys, label, group, footer = ("j",), "Nudge left", PIECES, False


class NudgeRight(Command):
    """Move the piece at hand to the right by one mark of your rule."""

    keys, label, group, footer = ("l",), "Nudge right", PIECES, False


class NudgeUp(Command):
    """Move the piece at hand up by one mark of your rule."""

    keys, label, group, footer = ("i",), "Nudge up", PIECES, False


class NudgeDown(Command):
    """Move the piece at hand down by one mark of your rule."""

    keys, label, group, footer = ("k",), "Nudge down", PIECES, False


class ResizeCard(Command):
    """Make a new project of this card in another size; borders stay and the rest follows."""

    keys, label, group, footer = ("n",), "New from this", PIECES, False


class Begin(Command):
    """Begin to cut this batch, or go on with it."""

    keys, label, group = ("space",), "Begin", TRIMMING


class SheetBefore(Command):
    """Show the sheet before."""

    keys, label, group, footer = ("left",), "Sheet before", TRIMMING, False


class NextSheet(Command):
    """Show the next sheet that is cut in another way."""

    keys, label, group = ("right",), "Sheets", TRIMMING


class BeginAnother(Command):
    """Begin another batch of this project, though one is under way."""

    keys, label, group, footer = ("b",), "Begin another", TRIMMING, False


class Compare(Command):
    """Show plans that truly differ side by side, to pick one of them."""

    keys, label, group = ("c",), "Compare", TRIMMING


class PickPlan(Command):
    """Pick the plan at hand, to cut this batch by."""

    keys, label, group = ("enter",), "Pick", TRIMMING


class Enlarge(Command):
    """Show the card at hand as large as the screen allows."""

    keys, label, group = ("enter",), "Enlarge", COMBINATIONS


class MoreAcross(Command):
    """Show more cards abreast, each smaller."""

    keys, label, group, footer = ("m",), "More abreast", COMBINATIONS, False


class FewerAcross(Command):
    """Show fewer cards abreast, each larger."""

    keys, label, group, footer = ("n",), "Fewer abreast", COMBINATIONS, False


class FixCard(Command):
    """Fix the card at hand as it is, or let it go; the dealing leaves fixed cards alone."""

    keys, label, group = ("f",), "Fix", COMBINATIONS


class SwapPieces(Command):
    """Swap a piece of the card at hand with that of another card, unless a rule forbids it."""

    keys, label, group = ("x",), "Swap", COMBINATIONS


class MeetPrints(Command):
    """Forbid or require that two prints meet on a card, or leave it open."""

    keys, label, group = ("t",), "Meeting", COMBINATIONS


class DealAgain(Command):
    """Deal all cards again that are not fixed."""

    keys, label, group = ("d",), "Deal again", COMBINATIONS


class CardLeft(Command):
    """Go to the card before."""

    keys, label, group, footer = ("left",), "Before", COMBINATIONS, False


class CardRight(Command):
    """Go to the next card."""

    keys, label, group, footer = ("right",), "Next", COMBINATIONS, False


class CardUp(Command):
    """Go to the card above."""

    keys, label, group, footer = ("up",), "Above", COMBINATIONS, False


class CardDown(Command):
    """Go to the card below."""

    keys, label, group, footer = ("down",), "Below", COMBINATIONS, False


class Tick(Command):
    """Tick the step at hand: it is done."""

    keys, label, group = ("space", "enter"), "Done", RUN


class TakeBack(Command):
    """Take back the last tick."""

    keys, label, group = ("backspace",), "Take back", RUN


class SayWrong(Command):
    """Say that something came out wrong; every way on is worked out."""

    keys, label, group = ("x",), "Wrong", RUN


class TickAlike(Command):
    """Tick this step and all like it: the rest at this mark, or the rest of this work."""

    keys, label, group, footer = ("a",), "All alike", RUN, False


class CountOne(Command):
    """Count off one part of this step; the last one ticks it."""

    keys, label, group, footer = ("o",), "One of them", RUN, False


class LookAhead(Command):
    """Look at the next step; nothing is ticked."""

    keys, label, group = ("right",), "Ahead", RUN


class LookBack(Command):
    """Look back, as far as the step at hand."""

    keys, label, group, footer = ("left",), "Nearer", RUN, False


class Pause(Command):
    """Pause: the screen dims, and the next press goes on without ticking."""

    keys, label, group = ("p",), "Pause", RUN


class Lock(Command):
    """Lock all keys but the one that ticks, for wide sleeves; the same key unlocks them."""

    keys, label, group, footer = ("f9",), "Lock", RUN, False


class WriteNote(Command):
    """Write a note that is kept with the batch."""

    keys, label, group, footer = ("n",), "Note", RUN, False


class ReadCautions(Command):
    """Read again what to take care of."""

    keys, label, group, footer = ("c",), "Cautions", RUN, False


class SwitchBell(Command):
    """Ring the terminal's bell at every new step, or stop it."""

    keys, label, group, footer = ("b",), "Bell", RUN, False


class SwitchVoice(Command):
    """Have every step said aloud by this computer, or stop it."""

    keys, label, group, footer = ("v",), "Voice", RUN, False


class LeaveBench(Command):
    """Leave the bench; the batch waits at the same step."""

    keys, label, group = ("escape",), "Leave the bench", RUN


class CloseForm(Command):
    """Close the form or picture and change nothing."""

    keys, label, group = ("escape",), "Close", FORM


class KeepForm(Command):
    """Keep what the form says, when nothing is wrong with it. Enter in a field does the same."""

    keys, label, group = ("f4",), "Keep", FORM


class NextField(Command):
    """Go to the next field."""

    keys, label, group, footer = ("down",), "Next field", FORM, False


class FieldBefore(Command):
    """Go to the field before."""

    keys, label, group, footer = ("up",), "Field before", FORM, False


class NextChoice(Command):
    """Choose the next of several; a letter chooses the next one that begins with it."""

    keys, label, group, footer = ("right", "space"), "Next choice", FORM, False


class ChoiceBefore(Command):
    """Choose the one before."""

    keys, label, group, footer = ("left",), "Choice before", FORM, False
