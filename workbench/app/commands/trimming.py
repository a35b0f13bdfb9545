"""The sheets and their cuts."""

from workbench.app.commands.command import TRIMMING, Command


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
