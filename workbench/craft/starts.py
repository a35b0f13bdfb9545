"""Cards to begin from: layouts of our own and an empty one, for any size, in inches or mm."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import INSIDE, Card, Fold, Piece, Place, Rounding
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import SHEETS
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.writing import graduation_for, nearest_mark

CARD, PRINTS = "plain card", ("first print", "second print", "third print")
COUNT = 9
_SHEETS: Mapping[Unit, tuple[str, ...]] = {
    "in": ("Letter", "Legal", "Tabloid"),
    "mm": ("A4", "A3", "A2"),
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
    across = Place(left - desk.border * 4, "centre")
    seal = Piece("seal", Size(desk.border * 8, desk.border * 8), (CARD,), across, on="bed")
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


def _empty(desk: _Desk) -> tuple[Piece, ...]:
    """Nothing on it yet: the pieces are yours to add."""
    del desk
    return ()


LAYOUTS: Mapping[str, _Layout] = {
    "Harbour light": _harbour_light,
    "Hedgerow": _hedgerow,
    "Two gardens": _two_gardens,
    "Stairway": _stairway,
    "Letter home": _letter_home,
    "Empty card": _empty,
}


def about(layout: str) -> str:
    """One sentence on the layout of that name.

    Raises:
        KeyError: where there is none.
    """
    return (LAYOUTS[layout].__doc__ or "").strip()


def start(layout: str, front: Size, unit: Unit, fold: Fold = "side") -> Project:
    """A project to begin from, with papers that stand for the maker's own.

    Args:
        layout: a name in `LAYOUTS`.
        front: the size of the card as it is seen when folded.
        unit: the unit of the project.
        fold: the edge it is folded at.

    Raises:
        KeyError: for a layout that is not there.
        CraftError: where no usual sheet is large enough for the card.
    """
    pieces = LAYOUTS[layout](_Desk(front, unit))
    card = Card(front, fold, CARD, COUNT)
    base = Paper(CARD, "cardstock", _sheet_for(card, unit), 8, colours=("#f6f3ea",))
    prints = _prints(unit) if pieces else ()
    return Project(layout, unit, card, (base, *prints), pieces)


def unit_of(size: Size) -> Unit:
    """The unit that a size was made up in: "mm" where that gives whole numbers and inches do not.

    Inches count down to sixteenths (an ordinary rule, federal item description A-A-355B).
    """
    sides = size.width, size.height
    if all(nearest_mark(side, graduation_for("in")).off == ZERO for side in sides):
        return "in"
    return "mm" if all(side.mm.denominator == 1 for side in sides) else "in"


def _sheet_for(card: Card, unit: Unit) -> Size:
    """The first usual sheet that the base can be cut from, or else the largest of them."""
    sheets = [SHEETS[name] for name in _SHEETS[unit]]
    base = card.base_size
    return next((s for s in sheets if s.holds(base) or s.holds(base.turned)), sheets[-1])


def _prints(unit: Unit) -> Iterator[Paper]:
    """Three prints, 12 inches square, or 305 mm as they are sold beside A4."""
    square = SHEETS["12 × 12 in" if unit == "in" else "305 mm square"]
    looks = (
        ("stripe", ("#3c6e71", "#f2efe6")),
        ("dot", ("#b5523b", "#f8f1e4")),
        ("floral", ("#7a4e7e", "#d8a23a", "#eef0e8")),
    )
    for name, (print_, colours) in zip(PRINTS, looks, strict=True):
        yield Paper(name, "patterned", square, 2, print=print_, colours=colours)
