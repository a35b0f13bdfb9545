"""The sizes of sheets and of cards that have a name, and reading one: "A4", "6 x 6 in"."""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length, MeasureError, Unit
from workbench.measure.numerals import quoted
from workbench.measure.reading import UNIT_WORDS, read_length

# ISO 216:2007: the longer side of the size before, halved and rounded down.
_ISO_FIRST = {"A": (841, 1189), "B": (1000, 1414)}
_ISO_LAST = 10
_TIMES = re.compile(r"\s*(?:×|[xX*]|\bby\b)\s*")


def _iso() -> Iterator[tuple[str, Size]]:
    for series, sides in _ISO_FIRST.items():
        short, long = sides
        for number in range(_ISO_LAST + 1):
            yield f"{series}{number}", Size(Length.of(short, "mm"), Length.of(long, "mm"))
            short, long = long // 2, short


def _inches(width: str, height: str) -> Size:
    return Size(*(Length.of(Fraction(side), "in") for side in (width, height)))


SHEETS: Mapping[str, Size] = {
    **dict(_iso()),
    # ASME Y14.1 sizes A and B; Legal and the squares are sizes of the trade.
    "Letter": _inches("17/2", "11"),
    "Legal": _inches("17/2", "14"),
    "Tabloid": _inches("11", "17"),
    "12 × 12 in": _inches("12", "12"),
    "8 × 8 in": _inches("8", "8"),
    "6 × 6 in": _inches("6", "6"),
    # As it is sold beside A4.
    "305 mm square": Size(Length.of(305, "mm"), Length.of(305, "mm")),
}
"""Upright, by the name it is asked for and shown by."""

CARDS: Mapping[str, Size] = {
    # What goes in the US announcement envelope of that name; A9 from memory. An ISO size of the
    # same name is another one.
    "US A2": _inches("17/4", "11/2"),
    "US A6": _inches("9/2", "25/4"),
    "US A7": _inches("5", "7"),
    "US A8": _inches("21/4", "63/8"),
    "US A9": _inches("11/2", "17/2"),
    "US A10": _inches("23/4", "37/4"),
    "US slimline": _inches("29/8", "69/8"),
    **{name: SHEETS[name] for name in ("A4", "A5", "A6", "A7", "A8", "B5", "B6", "B7")},
    # A third of A4, for the envelope DL of ISO 269.
    "DL": Size(Length.of(99, "mm"), Length.of(210, "mm")),
}
"""Fronts of cards by name. The sizes of ISO come before those of the US where "US" is left out."""


_SQUARES = {f"{side}x{side}": SHEETS[f"{side} × {side} in"] for side in (12, 8, 6)}
_USUAL = {"sheet": ("A4", "Letter", "12 × 12 in"), "card": ("A6", "US A2", "DL")}


def read_sheet(text: str, unit: Unit) -> Size:
    """The sheet that `text` names or measures: "A4", "letter", "6x6 in", "152 x 152 mm".

    A bare number is in `unit`; width comes first. Raises MeasureError.
    """
    return _read(text, unit, "sheet")


def read_whole_sheet(text: str, unit: Unit) -> Size:
    """The same for what is no piece nor offcut: "12 x 12", a name of the trade, is in inches.

    No sheet is as small as that in millimetres. Raises MeasureError.
    """
    return _SQUARES.get(_plain(text)) or read_sheet(text, unit)


def read_card(text: str, unit: Unit) -> Size:
    """The front of a card that `text` names or measures: "A6", "US A2", "4 1/4 x 5 1/2 in".

    Raises MeasureError.
    """
    return _read(text, unit, "card")


def sheet_name(size: Size) -> str | None:
    """What a sheet of exactly this size is called, whichever way it lies; None if nothing."""
    return next((name for name, named in SHEETS.items() if size in (named, named.turned)), None)


def _read(text: str, unit: Unit, thing: str) -> Size:
    wanted, names = _plain(text), _NAMES[thing]
    if size := names.get(wanted) or names.get(f"us{wanted}"):
        return size
    sides = _TIMES.split(text.strip())
    if len(sides) != 2:
        known = f"{quoted(text)} is no {thing} known by name"
        raise MeasureError(
            known if text.strip() else "nothing is written here",
            f"use a name such as {', '.join(_USUAL[thing])}, or width x height with the unit",
        )
    across, up = sides
    # A unit said once, at the end, is that of both sides.
    last = up.split()[-1].casefold() if up.split() else ""
    if last in UNIT_WORDS and across and across[-1].isdigit():
        across = f"{across} {last}"
    size = Size(read_length(across, unit), read_length(up, unit))
    if ZERO in (size.width, size.height):
        raise MeasureError(f"{quoted(text)} has a side of nothing", "give two lengths above 0")
    return size


def _plain(name: str) -> str:
    return _TIMES.sub("x", name.casefold()).replace(" ", "")


_NAMES = {
    thing: {_plain(name): size for name, size in named.items()}
    for thing, named in (("sheet", SHEETS), ("card", CARDS))
}
