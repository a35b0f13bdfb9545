"""Forms, their fields, and questions."""

from workbench.app.commands.command import FORM, Command


class CloseForm(Command):
    """Close the form or picture and change nothing."""

    keys, label, group = ("escape",), "Close", FORM


class KeepForm(Command):
    """Keep what the form says, when nothing is wrong with it; the button does the same."""

    keys, label, group = ("f4",), "Keep", FORM


class MendForm(Command):
    """Put right the field that is wrong, where the form knows how; a button says with what."""

    keys, label, group, footer = ("f5",), "Mend", FORM, False


class NextField(Command):
    """Go to the next field, and from the last to the button that keeps the form."""

    keys, label, group, footer = ("enter", "down"), "Next field", FORM, False


class FieldBefore(Command):
    """Go to the field before."""

    keys, label, group, footer = ("up",), "Field before", FORM, False


class NextChoice(Command):
    """Choose the next of several; a letter chooses the next one that begins with it."""

    keys, label, group, footer = ("right", "space"), "Next choice", FORM, False


class ChoiceBefore(Command):
    """Choose the one before."""

    keys, label, group, footer = ("left",), "Choice before", FORM, False
