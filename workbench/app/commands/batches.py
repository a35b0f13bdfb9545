"""The page of all batches."""

from workbench.app.commands.command import BATCHES, Command


class GoToBench(Command):
    """Go to the bench of the batch at hand, to go on with it or to look at what came of it."""

    keys, label, group = ("enter",), "Bench", BATCHES


class PutBatchAway(Command):
    """Put the batch at hand away, so that it is no longer offered, or take it out again."""

    keys, label, group = ("a",), "Put away", BATCHES


class AbandonBatch(Command):
    """Give the batch at hand up, after a question; what is left of its paper goes back."""

    keys, label, group = ("g",), "Give up", BATCHES


class AdoptBatch(Command):
    """Let the batch at hand draw on the drawer from now on; what it has used comes in with it."""

    keys, label, group, footer = ("d",), "To the drawer", BATCHES, False


class RemoveBatch(Command):
    """Remove the batch at hand and its record, after a question."""

    keys, label, group, footer = ("x",), "Remove", BATCHES, False
