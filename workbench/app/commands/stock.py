"""The papers and offcuts."""

from workbench.app.commands.command import STOCK, Command


class AddPaper(Command):
    """Add a paper to the stock of this project."""

    keys, label, group = ("a",), "Add", STOCK


class CopyPaper(Command):
    """Add a paper like the one at hand, with a name of its own."""

    keys, label, group = ("d",), "Copy", STOCK


class AddOffcut(Command):
    """Add an offcut that may be used before a sheet is opened."""

    keys, label, group, footer = ("f",), "Add offcut", STOCK, False


class ChangePaper(Command):
    """Change the paper or offcut at hand."""

    keys, label, group = ("c", "enter"), "Change", STOCK


class RemovePaper(Command):
    """Remove the paper or offcut at hand, unless a piece is still cut from it."""

    keys, label, group = ("x",), "Remove", STOCK


class AdoptPapers(Command):
    """Put the papers and offcuts of this project in the drawer, and draw on it from now on."""

    keys, label, group, footer = ("g",), "To the drawer", STOCK, False


class TakeFromDrawer(Command):
    """Take a paper from the drawer into this project; its sheets are counted in the drawer."""

    keys, label, group = ("t",), "Take", STOCK
