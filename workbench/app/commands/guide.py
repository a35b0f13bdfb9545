"""The recipe for others, on the Guide page."""

from workbench.app.commands.command import GUIDE, Command


class WriteGuide(Command):
    """Write the guide to a file; how its name ends says whether as pdf, png, svg, txt, md, html."""

    keys, label, group = ("enter",), "Write", GUIDE


class WriteCards(Command):
    """Write all cards of the batch as one picture, png or svg."""

    keys, label, group, footer = ("c",), "Cards", GUIDE, False


class WriteCues(Command):
    """Write what to say while the batch is made, for a film or a lesson."""

    keys, label, group, footer = ("t",), "Cues", GUIDE, False


class ChangePageSize(Command):
    """Print on A4 instead of Letter, or back."""

    keys, label, group = ("l",), "Letter/A4", GUIDE


class ChangeImprint(Command):
    """Put your own line at the foot of the guide, and a picture of the card on it."""

    keys, label, group, footer = ("i",), "Your line", GUIDE, False


class AdaptCard(Command):
    """Plan the card anew for another reader's paper, unit, count or size."""

    keys, label, group = ("a",), "Adapt", GUIDE


class OpenWritten(Command):
    """Open what was written last, as this computer opens such files."""

    keys, label, group = ("o",), "Open", GUIDE


class PageBefore(Command):
    """Show the page before, where there is room for its picture."""

    keys, label, group, footer = ("left",), "Page before", GUIDE, False


class NextPage(Command):
    """Show the next page, where there is room for its picture."""

    keys, label, group, footer = ("right",), "Next page", GUIDE, False
