"""An envelope, or a liner for one, cut from paper as pieces of the batch.

All allowances are common practice, no source. The blank is one rectangle: the front, the back below
it and the flap above it, with a seam allowance at both sides that becomes the tabs of the back.
Beside the front and the flap it is cut away by hand.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from workbench.craft.card import APART, Piece
from workbench.craft.envelope import Envelope
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.measure.numerals import plain
from workbench.post.figures import CardFigures
from workbench.post.papers import sheet_figures

ENVELOPE_PIECE, LINER_PIECE = "envelope blank", "envelope liner"
ENVELOPE_NAME = "cut from paper"
# Sides of an envelope are rounded up to this.
_STEP: dict[Unit, Length] = {"in": Length.of("1/8", "in"), "mm": Length.of(1, "mm")}
_SEAM: dict[Unit, Length] = {"in": Length.of("5/8", "in"), "mm": Length.of(15, "mm")}
_FLAP = Fraction(2, 5)
# A liner stops short of each side, and leaves the gum of the flap free.
_LINER_SIDE: dict[Unit, Length] = {"in": Length.of("1/8", "in"), "mm": Length.of(3, "mm")}
_LINER_GUM: dict[Unit, Length] = {"in": Length.of("3/4", "in"), "mm": Length.of(20, "mm")}
_SQUARE_MM = 1_000_000


@dataclass(frozen=True, slots=True)
class EnvelopeCut:
    """The measures of an envelope to be cut.

    Attributes:
        outer: the finished envelope, its long side across.
        flap: how far the flap reaches down.
        seam: the allowance at each side.
        liner: the rectangle that lines it, back and flap.
    """

    outer: Size
    flap: Length
    seam: Length
    liner: Size

    @property
    def blank(self) -> Size:
        """The rectangle to cut it from."""
        return Size(self.outer.width + self.seam * 2, self.outer.height * 2 + self.flap)


def envelope_cut(
    figures: CardFigures,
    clearance: Length,
    unit: Unit,
    flap: Length | None = None,
    seam: Length | None = None,
) -> EnvelopeCut:
    """The measures of an envelope for a card, by the usual allowances where none is given.

    Each way it is larger than the card by the clearance, or by the card's thickness where that is
    more, and rounded up to 1/8 in or 1 mm.
    """
    step = _STEP[unit]
    room = max(clearance, Length(figures.thickness.high))
    long, short = (
        step * ceil((side + room).ratio(step))
        for side in sorted((figures.size.width, figures.size.height), reverse=True)
    )
    flap = flap or step * ceil((short * _FLAP).ratio(step))
    side, gum = _LINER_SIDE[unit], _LINER_GUM[unit]
    liner = Size(long - side * 2, max(short + flap - gum, step))
    return EnvelopeCut(Size(long, short), flap, seam or _SEAM[unit], liner)


def with_envelope_cut(
    project: Project, cut: EnvelopeCut, paper: str, liner_paper: str | None = None
) -> Project:
    """The project with the envelope, and its liner where a paper is named, among its pieces.

    One on each card, not glued to it; what was cut for an envelope before gives way. The card is
    posted in it.

    Raises:
        CraftError: where the paper is too small for it.
    """
    kept = [piece for piece in project.pieces if piece.name not in (ENVELOPE_PIECE, LINER_PIECE)]
    pieces = [*kept, Piece(ENVELOPE_PIECE, cut.blank, (paper,), on=APART)]
    if liner_paper:
        pieces.append(Piece(LINER_PIECE, cut.liner, (liner_paper,), on=APART))
    weight = _weight(project, cut, paper, liner_paper)
    envelope = Envelope(ENVELOPE_NAME, cut.outer, weight, "cut as a piece of the batch")
    others = (each for each in project.envelopes if each.name != ENVELOPE_NAME)
    return replace(
        project,
        pieces=tuple(pieces),
        envelopes=(*others, envelope),
        posting=replace(project.posting, envelope=ENVELOPE_NAME),
    )


def _weight(project: Project, cut: EnvelopeCut, paper: str, liner: str | None) -> str | None:
    """What one weighs, None where its papers have not been weighed."""
    # The seams lie beside the back only.
    area = (cut.blank.width.mm - cut.seam.mm * 2) * cut.blank.height.mm
    area += cut.seam.mm * 2 * cut.outer.height.mm
    parts = [(paper, area)]
    if liner:
        parts.append((liner, cut.liner.area))
    grams = Fraction(0)
    for name, square_mm in parts:
        gsm = sheet_figures(project.paper(name)).gsm
        if not gsm.known:
            return None
        grams += gsm.low * square_mm / _SQUARE_MM
    return f"{plain(Fraction(round(grams * 10), 10))} g"
