"""The guided run."""

from workbench.app.commands.command import RUN, Command


class Tick(Command):
    """Tick the step at hand: it is done."""

    keys, label, group = ("space", "enter"), "Done", RUN


class TakeBack(Command):
    """Take back the last tick."""

    keys, label, group = ("backspace",), "Untick", RUN


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

    keys, label, group, footer = ("right",), "Ahead", RUN, False


class LookBack(Command):
    """Look back, as far as the step at hand."""

    keys, label, group, footer = ("left",), "Nearer", RUN, False


class Pause(Command):
    """Pause: the screen dims, and the next press goes on without ticking."""

    keys, label, group, footer = ("p",), "Pause", RUN, False


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


class KeepOffcuts(Command):
    """Put the offcuts of this batch in the stock of its project, each with its size."""

    keys, label, group, footer = ("f",), "Offcuts", RUN, False


class LeaveBench(Command):
    """Leave the bench; the batch waits at the same step."""

    keys, label, group = ("escape",), "Back", RUN
