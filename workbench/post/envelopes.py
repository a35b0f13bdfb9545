"""Which envelopes take a card, and what one adds to it."""

from collections.abc import Container, Iterable
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.envelope import Envelope
from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.ranges import Range
from workbench.measure.writing import graduation_for, nearest_mark
from workbench.post.figures import CardFigures
from workbench.post.papers import likely_mm

# Common practice, no source: the sizes in which cards and envelopes are sold leave at least this
# (a card of 4 1/4 x 5 1/2 in goes into an envelope of 4 3/8 x 5 3/4).
CLEARANCE = Length.of("1/8", "in")
# Where an envelope has not been weighed. Common practice, no source: the usual papers of
# envelopes; how much paper goes into one, in areas of its face (two faces, flap and seams); how
# often that paper lies over the thickest part of a card.
_LIKELY_GSM = Range(Fraction(80), Fraction(120))
_LIKELY_FACES = Range(Fraction(22, 10), Fraction(27, 10))
_LIKELY_WALLS = Range(Fraction(2), Fraction(3))
_SQUARE_MM = 1_000_000  # in a square metre


@dataclass(frozen=True, slots=True)
class Fit:
    """A card in an envelope: the less `room` of the two ways, below ZERO where it is too large.

    Two flat sheets joined along their edges close over a card as thick as its room, no thicker.
    """

    envelope: Envelope
    room: Length
    fits: bool

    @property
    def takes(self) -> Length:
        """How thick a card of this size it still takes."""
        return max(self.room, ZERO)


def fit(figures: CardFigures, envelope: Envelope, clearance: Length) -> Fit:
    """How a card lies in an envelope, the long side of one along that of the other.

    It fits where both ways leave at least the `clearance`, and at least its own thickness.
    """
    room = _room(figures.size, envelope)
    needed = max(clearance, Length(figures.thickness.high))
    return Fit(envelope, room, fits=room >= needed)


def fitting(
    figures: CardFigures,
    envelopes: Iterable[Envelope],
    clearance: Length,
    foreign: Container[Envelope] = (),
) -> tuple[Fit, ...]:
    """The envelopes that take the card, the snuggest (of the smallest area) first.

    Those that are `foreign` come after all others.
    """
    every = (fit(figures, envelope, clearance) for envelope in envelopes)
    fits = [one for one in every if one.fits]
    return tuple(sorted(fits, key=lambda one: (one.envelope in foreign, *_area(one))))


def measured_in(envelope: Envelope, unit: Unit) -> bool:
    """Whether both sides end on lines of a rule in that unit, as what is sold by it does."""
    rule = graduation_for(unit)
    return all(not nearest_mark(side, rule).off for side in (envelope.long, envelope.short))


def envelope_grams(envelope: Envelope) -> Range:
    """What it weighs, empty."""
    if envelope.grams is not None:
        return Range.exactly(envelope.grams)
    face = envelope.long.mm * envelope.short.mm / _SQUARE_MM
    return Range(
        _LIKELY_GSM.low * _LIKELY_FACES.low * face, _LIKELY_GSM.high * _LIKELY_FACES.high * face
    )


def envelope_mm() -> Range:
    """What an envelope adds to the thickness of a card, in millimetres."""
    sheet = likely_mm(_LIKELY_GSM)
    return Range(sheet.low * _LIKELY_WALLS.low, sheet.high * _LIKELY_WALLS.high)


def _room(size: Size, envelope: Envelope) -> Length:
    long, short = max(size.width, size.height), min(size.width, size.height)
    return min(envelope.long - long, envelope.short - short)


def _area(fit: Fit) -> tuple[Fraction, str]:
    return fit.envelope.long.mm * fit.envelope.short.mm, fit.envelope.name
