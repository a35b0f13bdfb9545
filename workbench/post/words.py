"""A card by post in words and figures, in both systems of units."""

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from workbench.craft.envelope import Envelope
from workbench.craft.paper import Size
from workbench.measure.length import Length, Unit
from workbench.measure.masses import write_grams
from workbench.measure.numerals import plain
from workbench.measure.ranges import Range
from workbench.measure.weights import write_millimetres, write_thousandths
from workbench.measure.writing import write_near
from workbench.post.card import CardByPost
from workbench.post.envelope_pieces import ENVELOPE_NAME
from workbench.post.figures import sides_words
from workbench.post.judging import ClassResult, RuleResult
from workbench.post.papers import Missing
from workbench.post.rules import CHECK, Measured

_THIN: tuple[Measured, ...] = ("thickness", "unevenness")
_OTHER: dict[Unit, Unit] = {"in": "mm", "mm": "in"}


def size_words(size: Size, unit: Unit) -> str:
    """Width and height in the project's unit and in the other: "5 × 7 in (127 × 177.8 mm)"."""
    return f"{sides_words(size, unit)} ({sides_words(size, _OTHER[unit])})"


def weight_words(grams: Range, unit: Unit) -> str:
    """A weight in both systems, first that of the project: "12.4 g (0.44 oz)"."""
    said = [write_grams(grams, "g"), write_grams(grams, "oz")]
    first, second = said if unit == "mm" else said[::-1]
    return f"{first} ({second})"


def thickness_words(mm: Range, unit: Unit) -> str:
    """A thickness in both systems: "1.52 mm (0.06 in)"."""
    said = [write_millimetres(mm), write_thousandths(mm)]
    first, second = said if unit == "mm" else said[::-1]
    return f"{first} ({second})"


def envelope_words(envelope: Envelope, unit: Unit) -> str:
    """Its name and sides: "US A2, 4 3/8 × 5 3/4 in"."""
    return f"{envelope.name}, {sides_words(Size(envelope.short, envelope.long), unit)}"


def uneven_words(card: CardByPost, unit: Unit) -> str:
    """Whether the card is of one thickness all over, and what makes it otherwise."""
    figures = card.figures
    if not figures.unevenness.high:
        return f"uneven: {', '.join(figures.lumps)}" if figures.lumps else "the same all over"
    higher = f"{thickness_words(figures.unevenness, unit)} higher in places"
    return f"{higher}: {', '.join(figures.lumps)}" if figures.lumps else higher


def class_words(card: CardByPost) -> str:
    """The class of the card, and what it may be while figures are missing."""
    judgement = card.judgement
    if judgement is None:
        return "no envelope of the tables or your own takes this card"
    sure, hoped = judgement.sure, judgement.hoped
    if hoped is None:
        return "none of these classes takes it: ask at your post office"
    if sure is hoped:
        return hoped.postal_class.name
    surely = sure.postal_class.name if sure else "none of these classes"
    return f"{hoped.postal_class.name}, if the missing figures allow; else {surely}"


def telling_rules(result: ClassResult) -> tuple[RuleResult, ...]:
    """The rules that decide: failed and open ones, and those that it keeps only just."""
    return tuple(each for each in result.rules if each.verdict != "passed" or each.near)


def rule_words(result: RuleResult) -> str:
    """One rule and how near its edge the card is: "sides 1.314 to 1, from 1.3; 0.014 inside"."""
    of, edge = result.rule.of, result.edge
    figure = figure_words(of, result.figure, edge.unit)
    side = "from" if result.from_least else "to"
    said = f"sides {figure} to 1" if of == "shape" else f"{of} {figure}"
    line = f"{said}, {side} {edge.text}"
    if of == "lumps":
        return line
    far = figure_words(of, Range.exactly(abs(result.beyond)), edge.unit)
    if not result.beyond:
        return f"{line}; just at it"
    where = "inside" if result.beyond > 0 else "outside"
    if result.beyond < 0 and result.verdict == "passed" and result.rule.tolerance:
        where = f"outside, within the {result.rule.tolerance.text} allowed"
    if result.verdict == "open":
        where = "outside at worst"
    return f"{line}; {far} {where}"


def figure_words(of: Measured, figure: Range, unit: str) -> str:
    """A figure of a letter in the unit of a rule."""
    if unit in ("g", "oz"):
        return write_grams(figure, unit)
    if of in _THIN:
        return write_thousandths(figure) if unit == "in" else write_millimetres(figure)
    if unit in ("in", "mm"):
        return write_near(Length(figure.high), "in" if unit == "in" else "mm")
    return plain(Fraction(round(figure.high * 1000), 1000))


def missing_words(missing: Sequence[Missing]) -> Iterator[tuple[str, str]]:
    """The papers with figures that nobody has given, and what each is likely to be."""
    for paper in dict.fromkeys(each.paper for each in missing):
        likely = (f"{one.what} (likely {one.likely})" for one in missing if one.paper == paper)
        yield paper, ", ".join(likely)


def bought_envelope(card: CardByPost) -> Envelope | None:
    """The envelope it goes in, None where that is cut from paper or there is none."""
    chosen = card.chosen and card.chosen.envelope
    return chosen if chosen and chosen.name != ENVELOPE_NAME else None


def letter_lines(
    card: CardByPost, count: int, unit: Unit, sizes: Callable[[Size], str]
) -> Iterator[str]:
    """What a printed guide or a shopping list says of a batch by post, a sentence each.

    Args:
        card: one card of the batch.
        count: how many cards it has, each of which takes an envelope.
        unit: the one told first; the other follows in brackets.
        sizes: writes a size as that guide or list writes all others.
    """
    if envelope := bought_envelope(card):
        sides = sizes(Size(envelope.short, envelope.long))
        yield f"{count} × envelope {envelope.name}, {sides}"
    of = card.figures
    weighs, thick = weight_words(of.grams, unit), thickness_words(of.thickness, unit)
    yield f"By post: one card is {sizes(of.size)}, {weighs}, {thick} thick"
    if card.judgement:
        yield f"{card.post.name}: {class_words(card)}, as seen {card.post.seen}. {CHECK}"
