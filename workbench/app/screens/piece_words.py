"""The card, a piece and the doubts about them, in a few lines."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from workbench.app.screens.piece_forms import FOLD_WORDS, SPREAD_WORDS
from workbench.craft.card import Card, Piece
from workbench.craft.checks import findings
from workbench.craft.errors import CraftError
from workbench.craft.extent import Borders
from workbench.craft.extra import Extra
from workbench.craft.finding import Finding
from workbench.craft.geometry import also_under, borders_of, front_extent, laid_out, placements
from workbench.craft.project import Project
from workbench.craft.surface import seen
from workbench.drawing.labels import write_border, write_exactly, write_short
from workbench.making.offcut_offers import lying_of, offers_for
from workbench.measure.counting import counted
from workbench.measure.length import UNITS, ZERO, Length, Unit
from workbench.measure.masses import write_grams
from workbench.measure.ranges import Range
from workbench.measure.weights import write_millimetres, write_thousandths
from workbench.measure.writing import write_clean
from workbench.post import Desk, card_by_post
from workbench.post.doubts import postal_findings
from workbench.post.words import class_words, rule_words, telling_rules
from workbench.store.preferences import Preferences


class LookedOver(NamedTuple):
    """What is doubtful about a project, and the card by post in a few lines."""

    doubts: Sequence[Finding]
    post: Sequence[str]


NOT_YET = LookedOver((), ("looking it over …",))


def look_over(
    project: Project, preferences: Preferences, desk: Desk, unit: Unit, key: str
) -> LookedOver:
    """Find all that is doubtful, and tell the card by post; `key` shows all of that."""
    doubts = (
        *findings(project, preferences.trimmer, preferences.tolerance),
        *postal_findings(project, desk),
    )
    return LookedOver(doubts, tuple(post_words(project, desk, unit, key)))


def card_words(card: Card) -> Iterator[str]:
    folded = "flat" if card.fold == "none" else f"folded {FOLD_WORDS[card.fold]}"
    yield f"{counted(card.count, 'card')}, {folded}"
    yield f"base from {card.paper}"


def piece_words(project: Project, piece: Piece, number: int, unit: Unit, key: str) -> Iterator[str]:
    """What it is cut from, where it lies, the borders it leaves, how much of it is seen.

    Of several on a card, the place and the borders are those of the `number`, from 1. `key` is the
    one that offers offcuts for it.
    """
    yield f"from {', '.join(piece.papers)}"
    makes = sum(offer.makes for offer in offers_for(project, piece, lying_of(project)))
    if makes:
        yield f"{makes} of it from offcuts: {key}"
    if piece.is_apart:
        yield "goes with the card, glued to nothing on it"
        return
    place = piece.place_of(number)
    which = f"number {number} " if piece.spread == "placed" else ""
    lies = f"{_where(place.x, 'left', unit)}, {_where(place.y, 'bottom', unit)}"
    yield f"{which}on {piece.on}: {lies}"
    copies = [each for each in laid_out(project) if each.piece is piece]
    at_hand = [each for each in copies if each.number == number or piece.spread != "placed"]
    under = (other.piece.name for each in at_hand for other in also_under(project, each))
    if also := list(dict.fromkeys(under)):
        yield f"it also lies on {', '.join(also)}"
    yield _borders(borders_of(project, piece.name, number), unit)
    yield f"shows on {_share_seen(project, piece)} of the card"
    if piece.rounding:
        yield f"round {', '.join(piece.rounding.corners)}"
    if piece.per_card > 1:
        alike = f", {piece.copies}" if project.mixed(piece) else ""
        yield f"{piece.per_card} on each card{alike}, {SPREAD_WORDS[piece.spread]}"
    if not piece.needed:
        yield "only where it costs no extra sheet"
    if piece.raised:
        yield f"raised {write_exactly(piece.raised, unit)} {unit} on foam pads"


def extra_words(extra: Extra) -> Iterator[str]:
    """How many there are and where, what one weighs and how high it stands."""
    yield f"{extra.per_card} on each card, on {extra.on}"
    high = f", {extra.thickness} high" if extra.thickness else ""
    yield f"{extra.weight} each{high}{', flat' if extra.flat else ''}"


def post_words(project: Project, desk: Desk, unit: Unit, key: str) -> Iterator[str]:
    """The card by post in a few lines: its figures, its envelope, its class and what decides.

    `key` is the one that shows all of it.
    """
    try:
        card = card_by_post(project, desk)
    except CraftError as error:
        yield f"By post: {error.wrong}"
        return
    of = card.letter or card.figures
    weight = write_grams(of.grams, "oz" if unit == "in" else "g")
    most = Range.exactly(of.thickness.high)
    thick = (write_thousandths if unit == "in" else write_millimetres)(most)
    told = thick if of.thickness.low == of.thickness.high else f"up to {thick}"
    yield f"Posted {weight}, {told} thick"
    envelope = f"{card.chosen.envelope.name}: " if card.chosen else ""
    yield f"{envelope}{class_words(card)}"
    if card.judgement and card.judgement.classes:
        deciding = telling_rules(card.judgement.classes[0])
        yield from (f"  {rule_words(each)}" for each in deciding[:1])
    if papers := {each.paper for each in card.figures.missing}:
        yield f"  not all is known of {counted(len(papers), 'paper')}"
    yield f"Check with your post office; {key}: all of it"


def doubt_words(doubts: Sequence[Finding], name: str, key: str) -> Iterator[str]:
    """The doubts about `name` (a piece or the card base) in full, and how many others there are.

    `key` is the one that mends them.
    """
    mine = [doubt for doubt in doubts if doubt.piece == name]
    for doubt in mine:
        yield f"! {doubt if doubt.about else f'{doubt.wrong}. {doubt.why}.'}"
        if doubt.mended:
            yield f"  {key}: {doubt.mend}"
    others = len(doubts) - len(mine)
    if others:
        noun = "more doubt" if mine else "doubt"
        yield f"! {counted(others, noun)} about other parts"


def lies_inside(project: Project, name: str) -> bool:
    return any(placed.inside for placed in placements(project) if placed.piece.name == name)


def _borders(borders: Borders, unit: Unit) -> str:
    """ "border 1/8 in all round", or each in turn; where it sticks out, by how much."""
    sides = {
        "left": borders.left,
        "right": borders.right,
        "below": borders.bottom,
        "above": borders.top,
    }
    if len(set(sides.values())) == 1 and borders.least >= ZERO:
        return f"border {write_border(borders.left, unit)} {unit} all round"
    each = (
        f"{write_border(abs(border), unit)} {'' if border >= ZERO else 'over '}{side}"
        for side, border in sides.items()
    )
    return f"borders {', '.join(each)} ({unit})"


def _share_seen(project: Project, piece: Piece) -> str:
    """In hundredths, its rounded corners taken off."""
    layers = seen(project, inside=lies_inside(project, piece.name))
    area = sum(float(layer.area) for layer in layers if layer.piece == piece.name)
    share = area / float(front_extent(project).area) * 100
    return "less than 1 %" if 0 < share < 1 else f"{round(share)} %"


def _where(where: str | Length, edge: str, unit: Unit) -> str:
    if not isinstance(where, Length):
        return where
    short = any(write_clean(where, each) for each in UNITS)
    return f"{write_exactly(where, unit) if short else write_short(where, unit)} from the {edge}"
