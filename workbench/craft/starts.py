"""Cards to begin from: layouts of our own, for every usual size, in inches or in millimetres."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import INSIDE, Card, Piece, Place, Rounding
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.measure.writing import graduation_for, nearest_mark

CARD, PRINTS = "plain card", ("first print", "second print", "third print")
COUNT = 9


def _inches(width: str, height: str) -> Size:
    return Size(*(Length.of(sum(map(Fraction, side.split())), "in") for side in (width, height)))


def _mm(width: int, height: int) -> Size:
    return Size(Length.of(width, "mm"), Length.of(height, "mm"))


SIZES: Mapping[Unit, Mapping[str, Size]] = {
    # Cards that go in the US announcement envelopes of that name; the square is common practice.
    "in": {
        "A2": _inches("4 1/4", "5 1/2"),
        "A6": _inches("4 1/2", "6 1/4"),
        "5 × 7": _inches("5", "7"),
        "square": _inches("5 1/4", "5 1/4"),
        "slimline": _inches("3 5/8", "8 5/8"),
    },
    # A6 of ISO 216; a slimline is a third of A4; the others are the nearest to the inch sizes.
    "mm": {
        "A2": _mm(108, 140),
        "A6": _mm(105, 148),
        "5 × 7": _mm(127, 178),
        "square": _mm(135, 135),
        "slimline": _mm(99, 210),
    },
}


@dataclass(frozen=True, slots=True)
class _Desk:
    """What a layout is drawn up on: the front, its unit, and a narrow border."""

    front: Size
    unit: Unit

    @property
    def border(self) -> Length:
        return Length.of(Fraction(1, 8), "in") if self.unit == "in" else Length.of(3, "mm")

    def share(self, side: Length, numerator: int, denominator: int) -> Length:
        """A part of `side`, to the nearest mark of an ordinary rule."""
        part = side * Fraction(numerator, denominator)
        return nearest_mark(part, graduation_for(self.unit)).mark

    def inset(self, size: Size, borders: int = 1) -> Size:
        taken = self.border * (2 * borders)
        return Size(size.width - taken, size.height - taken)

    @property
    def panel(self) -> Piece:
        return Piece("panel", self.inset(self.front), PRINTS)


_Layout = Callable[[_Desk], tuple[Piece, ...]]


def _harbour_light(desk: _Desk) -> tuple[Piece, ...]:
    """A rounded window high on the panel, a strip of words below it."""
    panel = desk.panel
    side = desk.share(min(panel.size.width, panel.size.height), 3, 5)
    window = Piece(
        "window",
        Size(side, side),
        PRINTS,
        Place("centre", desk.share(panel.size.height, 5, 6) - side),
        Rounding(("top left", "top right"), desk.border * 2),
        on="panel",
    )
    words = Size(desk.share(panel.size.width, 1, 2), desk.border * 5)
    strip = Piece("words", words, (CARD,), Place("centre", desk.border), on="panel")
    return panel, window, strip


def _hedgerow(desk: _Desk) -> tuple[Piece, ...]:
    """A band across the lower third, a label on it."""
    panel = desk.panel
    band = Piece(
        "band",
        Size(panel.size.width, desk.share(panel.size.height, 1, 3)),
        PRINTS,
        Place("left", desk.share(panel.size.height, 1, 6)),
        on="panel",
    )
    label = Piece("label", desk.inset(band.size, 2), (CARD,), on="band")
    return panel, band, label


def _two_gardens(desk: _Desk) -> tuple[Piece, ...]:
    """Two prints side by side, a small seal across the line between them."""
    inner = desk.inset(desk.front)
    left = desk.share(inner.width, 2, 3)
    bed = Piece("bed", Size(left, inner.height), PRINTS, Place(desk.border, desk.border))
    path = Piece(
        "path",
        Size(inner.width - left, inner.height),
        PRINTS,
        Place(desk.border + left, desk.border),
    )
    seal = Piece("seal", Size(desk.border * 8, desk.border * 8), (CARD,))
    return bed, path, seal


def _stairway(desk: _Desk) -> tuple[Piece, ...]:
    """Three steps that climb to the right, one behind the other."""
    inner = desk.inset(desk.front)
    step = desk.share(inner.width, 1, 3)
    return tuple(
        Piece(
            f"{name} step",
            Size(inner.width - step * place, desk.share(inner.height, place + 1, 4)),
            PRINTS,
            Place(desk.border + step * place, desk.border),
        )
        for place, name in ((2, "high"), (1, "middle"), (0, "low"))
    )


def _letter_home(desk: _Desk) -> tuple[Piece, ...]:
    """A mat around a print on the front, and a panel inside to write on."""
    mat = Piece("mat", desk.inset(desk.front), (CARD,))
    picture = Piece("picture", desk.inset(mat.size, 2), PRINTS, on="mat")
    sheet = Piece("writing panel", desk.inset(desk.front, 2), (CARD,), on=INSIDE)
    return mat, picture, sheet


LAYOUTS: Mapping[str, _Layout] = {
    "Harbour light": _harbour_light,
    "Hedgerow": _hedgerow,
    "Two gardens": _two_gardens,
    "Stairway": _stairway,
    "Letter home": _letter_home,
}


def about(layout: str) -> str:
    """One sentence on the layout of that name.

    Raises:
        KeyError: where there is none.
    """
    return (LAYOUTS[layout].__doc__ or "").strip()


def start(layout: str, size: str, unit: Unit) -> Project:
    """A project to begin from, with papers that stand for the maker's own.

    Args:
        layout: a name in `LAYOUTS`.
        size: a name in `SIZES` of that unit.
        unit: the unit of the project.

    Raises:
        KeyError: for a layout or size that is not there.
    """
    front = SIZES[unit][size]
    return Project(
        title=f"{layout}, {size}",
        units=unit,
        card=Card(front, "side", CARD, COUNT),
        papers=_papers(unit),
        pieces=LAYOUTS[layout](_Desk(front, unit)),
    )


def _papers(unit: Unit) -> tuple[Paper, ...]:
    """Letter or A4 card, and three prints 12 inches (or 305 mm, as sold beside A4) square."""
    sheet = _inches("8 1/2", "11") if unit == "in" else _mm(210, 297)
    square = _inches("12", "12") if unit == "in" else _mm(305, 305)
    looks = (
        ("stripe", ("#3c6e71", "#f2efe6")),
        ("dot", ("#b5523b", "#f8f1e4")),
        ("floral", ("#7a4e7e", "#d8a23a", "#eef0e8")),
    )
    prints = (
        Paper(name, "patterned", square, 2, print=print_, colours=colours)
        for name, (print_, colours) in zip(PRINTS, looks, strict=True)
    )
    return (Paper(CARD, "cardstock", sheet, 8, colours=("#f6f3ea",)), *prints)
