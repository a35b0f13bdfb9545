"""How thick a card is where its pieces lie highest on one another."""

from collections.abc import Iterator
from fractions import Fraction

from workbench.craft.card import Piece
from workbench.craft.geometry import Placement, placements
from workbench.craft.paper import Paper, PaperKind
from workbench.craft.project import Project
from workbench.measure.length import ZERO, Length, MeasureError
from workbench.measure.weights import read_thickness

# Where the packet says nothing. Common practice, no source; GPO/JCP's tables (1999) give 0.16 mm
# for text of 120 g/m2, 0.29 for index of 255 and 0.28 for tag of 270.
_USUAL: dict[PaperKind, Length] = {
    "patterned": Length(Fraction(16, 100)),
    "cardstock": Length(Fraction(30, 100)),
    "vellum": Length(Fraction(10, 100)),
    "other": Length(Fraction(30, 100)),
}


def thickness(paper: Paper) -> Length:
    """The thickness of one sheet: as the maker wrote it, else the usual for its kind."""
    try:
        return read_thickness(paper.thickness).length if paper.thickness else _USUAL[paper.kind]
    except MeasureError:
        return _USUAL[paper.kind]


def build_up(project: Project) -> Length:
    """The most that pieces add to the card's own thickness: on the front and inside together."""
    return sum((_deepest(project, inside=inside) for inside in (False, True)), ZERO)


def card_thickness(project: Project) -> Length:
    """The thickness of the folded card where it is thickest, without its envelope."""
    leaves = 1 if project.card.fold == "none" else 2
    return thickness(project.paper(project.card.paper)) * leaves + build_up(project)


def _deepest(project: Project, *, inside: bool) -> Length:
    stack = [placed for placed in placements(project) if placed.inside == inside]
    return max(_depths(project, stack), default=ZERO)


def _depths(project: Project, stack: list[Placement]) -> Iterator[Length]:
    """The thickness over every point where a left edge and a bottom edge cross.

    Some such point lies under the deepest pile: move from anywhere in it to the left and down.
    """
    lying = [
        (placed.extent, _thickest(project, placed.piece) * placed.piece.per_card)
        for placed in stack
    ]
    for left in {extent.left for extent, _ in lying}:
        across = [each for each in lying if each[0].left <= left < each[0].right]
        for bottom in {extent.bottom for extent, _ in across}:
            yield sum(
                (thick for extent, thick in across if extent.bottom <= bottom < extent.top), ZERO
            )


def _thickest(project: Project, piece: Piece) -> Length:
    return max(thickness(project.paper(name)) for name in piece.papers)
