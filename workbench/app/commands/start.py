"""The start page."""

from workbench.app.commands.command import START, Command


class NewCard(Command):
    """Begin a new card from one of our layouts, in the size of an envelope."""

    keys, label, group = ("n",), "New card", START


class ChooseFile(Command):
    """Open a project by the path of its file."""

    keys, label, group = ("o",), "Open", START


class ShowBatches(Command):
    """Show every batch and its record, to read it, put it away or remove it."""

    keys, label, group = ("b",), "Batches", START
