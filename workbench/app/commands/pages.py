"""What the pages of a project have in common: going to others, saving, undoing, planning."""

from workbench.app.commands.command import BETWEEN_PAGES, Command


class ShowStock(Command):
    """Show the papers and offcuts of this project."""

    keys, label, group, footer = ("1",), "Stock", BETWEEN_PAGES, False


class ShowPieces(Command):
    """Show the card and the pieces layered on it."""

    keys, label, group, footer = ("2",), "Pieces", BETWEEN_PAGES, False


class ShowTrimming(Command):
    """Show how the sheets are cut, and in which order."""

    keys, label, group, footer = ("3",), "Trimming", BETWEEN_PAGES, False


class ShowCombinations(Command):
    """Show which prints meet on which card."""

    keys, label, group, footer = ("4",), "Combinations", BETWEEN_PAGES, False


class ShowGuide(Command):
    """Show the recipe of this batch as others get it, and write it."""

    keys, label, group, footer = ("5",), "Guide", BETWEEN_PAGES, False


class ShowStart(Command):
    """Go back to the start page and its projects."""

    keys, label, group, footer = ("0",), "Projects", BETWEEN_PAGES, False


class SaveProject(Command):
    """Save the project in its file."""

    keys, label, group = ("s",), "Save", BETWEEN_PAGES


class SaveProjectAs(Command):
    """Save the project in another file, which is a way to begin a new one."""

    keys, label, group, footer = ("w",), "Save as", BETWEEN_PAGES, False


class Undo(Command):
    """Take back the last change of the project; every change since it was opened can be."""

    keys, label, group, footer = ("z",), "Undo", BETWEEN_PAGES, False


class Redo(Command):
    """Make the change again that was taken back."""

    keys, label, group, footer = ("y",), "Redo", BETWEEN_PAGES, False


class PlanAgain(Command):
    """Plan the batch now, or again."""

    keys, label, group, footer = ("p",), "Plan", BETWEEN_PAGES, False


class StopPlanning(Command):
    """Stop the planning that is under way."""

    keys, label, group, footer = ("escape",), "Stop planning", BETWEEN_PAGES, False
