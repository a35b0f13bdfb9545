"""What can be asked for on every screen."""

from workbench.app.commands.command import EVERYWHERE, Command


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


class ChangeSettings(Command):
    """Set what holds for all batches: trimmer, tolerance, units, bell, voice, your own keys."""

    keys, label, group, footer = ("f5",), "Settings", EVERYWHERE, False
    of_app = True


class Leave(Command):
    """Leave Trimtally; a batch under way is always kept, and unsaved changes are asked about."""

    keys, label, group = ("q",), "Leave", EVERYWHERE
    of_app = True
