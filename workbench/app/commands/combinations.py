"""The prints of each card."""

from workbench.app.commands.command import COMBINATIONS, Command


class Enlarge(Command):
    """Show the card at hand as large as the screen allows."""

    keys, label, group, footer = ("enter",), "Enlarge", COMBINATIONS, False


class MoreAcross(Command):
    """Show more cards abreast, each smaller."""

    keys, label, group, footer = ("m",), "More abreast", COMBINATIONS, False


class FewerAcross(Command):
    """Show fewer cards abreast, each larger."""

    keys, label, group, footer = ("n",), "Fewer abreast", COMBINATIONS, False


class FixCard(Command):
    """Fix the card at hand as it is, or let it go; the dealing leaves fixed cards alone."""

    keys, label, group = ("f",), "Fix", COMBINATIONS


class SwapPieces(Command):
    """Swap a piece of the card at hand with that of the card you go to or click next."""

    keys, label, group = ("x",), "Swap", COMBINATIONS


class MeetPrints(Command):
    """Forbid or require that two prints meet on a card, or leave it open."""

    keys, label, group = ("t",), "Meet", COMBINATIONS


class WishCards(Command):
    """Wish for cards all alike, all different, or as varied as comes; the batch is planned anew."""

    keys, label, group = ("a",), "Alike", COMBINATIONS


class DealAgain(Command):
    """Deal all cards again that are not fixed, in another way each time."""

    keys, label, group = ("d",), "Deal again", COMBINATIONS


class CardLeft(Command):
    """Go to the card before."""

    keys, label, group, footer = ("left",), "Before", COMBINATIONS, False


class CardRight(Command):
    """Go to the next card."""

    keys, label, group, footer = ("right",), "Next", COMBINATIONS, False


class CardUp(Command):
    """Go to the card above."""

    keys, label, group, footer = ("up",), "Above", COMBINATIONS, False


class CardDown(Command):
    """Go to the card below."""

    keys, label, group, footer = ("down",), "Below", COMBINATIONS, False
