"""What the rooms of a project have in common: their doors, saving, undoing, planning."""

from workbench.app.commands.command import ROOMS, Command


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
