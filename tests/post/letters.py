"""Letters and cards for the tests of the post."""

from fractions import Fraction

from workbench.craft.card import Card, Piece
from workbench.craft.envelope import Posting
from workbench.craft.extra import Extra
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.measure.ranges import NOTHING, Range
from workbench.post.judging import Letter
from workbench.post.rule_files import built_in_envelopes

MM_OF_AN_INCH = Fraction(254, 10)
GRAMS_OF_AN_OUNCE = Fraction("28.349523125")  # international yard and pound agreement, 1959


def letter(
    length: Fraction,
    height: Fraction,
    *,
    thickness: Fraction = Fraction(1),
    grams: Fraction = Fraction(15),
    upright: bool = False,
    lumps: int = 0,
    enveloped: bool = True,
) -> Letter:
    """A letter of one thickness all over; sides in millimetres."""
    return Letter(
        length=length,
        height=height,
        thickness=Range.exactly(thickness),
        grams=Range.exactly(grams),
        unevenness=NOTHING,
        lumps=lumps,
        shape=height / length if upright else length / height,
        enveloped=enveloped,
    )


def in_inches(length: str, height: str, thick: str = "0.04") -> Letter:
    """A letter by its sides and thickness in inches."""
    return letter(
        Fraction(length) * MM_OF_AN_INCH,
        Fraction(height) * MM_OF_AN_INCH,
        thickness=Fraction(thick) * MM_OF_AN_INCH,
    )


def in_envelope(name: str) -> Letter:
    """A letter of ordinary weight in an envelope of the tables."""
    found = next(each for each in built_in_envelopes() if each.name == name)
    return letter(found.long.mm, found.short.mm)


def size(width: str, height: str, unit: Unit) -> Size:
    return Size(Length.of(Fraction(width), unit), Length.of(Fraction(height), unit))


def paper(name: str, weight: str | None = "200 gsm", thickness: str | None = "0.25 mm") -> Paper:
    sides = size("700", "1000", "mm")
    return Paper(name, "cardstock", sides, 20, weight=weight, thickness=thickness)


def card(
    front: Size,
    *pieces: Piece,
    papers: tuple[Paper, ...] = (),
    extras: tuple[Extra, ...] = (),
    posting: Posting | None = None,
    unit: Unit = "mm",
) -> Project:
    """A card folded at the top, its base of "birch card"."""
    return Project(
        "Skating party",
        unit,
        Card(front, "top", "birch card", 4),
        (paper("birch card"), *papers),
        pieces,
        extras=extras,
        posting=posting or Posting(),
    )
