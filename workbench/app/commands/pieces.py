"""The card and the pieces layered on it."""

from workbench.app.commands.command import OWN_STEPS, PIECES, Command


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

    keys, label, group, footer = ("f",), "Forward", PIECES, False


class SendBack(Command):
    """Move the piece at hand one layer nearer to the back."""

    keys, label, group, footer = ("b",), "Back", PIECES, False


class CopyPiece(Command):
    """Copy the piece at hand; the copy lies just in front of it."""

    keys, label, group, footer = ("d",), "Copy", PIECES, False


class FitPiece(Command):
    """Size the piece at hand by a border, or align it to an edge, the centre or another piece."""

    keys, label, group = ("e",), "Fit", PIECES


class MendPiece(Command):
    """Mend the first doubt about the piece at hand, or else about any other."""

    keys, label, group = ("m",), "Mend", PIECES


class AddExtra(Command):
    """Add what is not cut from paper to the piece at hand: a bead, ribbon, tape, glue."""

    keys, label, group, footer = ("g",), "Add extra", PIECES, False


class ShowPost(Command):
    """Show what the card weighs, its envelope and how it travels; choose its post and envelope."""

    keys, label, group, footer = ("v",), "By post", PIECES, False


class EnterEnvelope(Command):
    """Enter an envelope of your own, and post the cards in it."""

    keys, label, group, footer = ("h",), "Own envelope", PIECES, False


class CutEnvelope(Command):
    """Have an envelope for the card, and a liner for it, cut from paper with the batch."""

    keys, label, group, footer = ("o",), "Cut envelope", PIECES, False


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


class ShowBorders(Command):
    """Show the borders of the piece at hand in figures on the picture, or hide them."""

    keys, label, group, footer = ("r",), "Borders", PIECES, False


class ResizeCard(Command):
    """Make a new project of this card in another size; borders stay and the rest follows."""

    keys, label, group, footer = ("n",), "New from this", PIECES, False


class SpreadCopies(Command):
    """Lay the copies of the piece at hand mirrored, in a row, each by itself, or loose, in turn."""

    keys, label, group, footer = ("f6",), "Spread copies", PIECES, False


class OfferOffcuts(Command):
    """Offer the offcuts that the piece at hand could be cut from, and small pieces for others."""

    keys, label, group, footer = ("f7",), "Offcuts", PIECES, False


class OwnSteps(Command):
    """List the steps of your own: stamp, punch, ink edges; add, change or remove one."""

    keys, label, group, footer = ("t",), "Your steps", PIECES, False


class AddStep(Command):
    """Add a step of your own at the end of the list."""

    keys, label, group = ("a",), "Add", OWN_STEPS


class ChangeStep(Command):
    """Change the step at hand."""

    keys, label, group = ("c", "enter"), "Change", OWN_STEPS


class RemoveStep(Command):
    """Remove the step at hand."""

    keys, label, group = ("x",), "Remove", OWN_STEPS
