"""What a finished card is: its size, its weight, its thickness, how uneven it is."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import BASE, FRONT, INSIDE, Piece
from workbench.craft.extra import Extra
from workbench.craft.geometry import front_extent, laid_out, placements
from workbench.craft.paper import Size
from workbench.craft.piles import piles
from workbench.craft.project import Project, layer_names
from workbench.craft.surface import piece_area
from workbench.measure.length import Unit
from workbench.measure.ranges import Range
from workbench.measure.writing import graduation_for, has_short_number, nearest_mark, write_number
from workbench.post.papers import Missing, SheetFigures, sheet_figures

_SQUARE_MM = 1_000_000  # in a square metre


@dataclass(frozen=True, slots=True)
class CardFigures:
    """One finished card, folded, without an envelope.

    A range covers papers that are mixed, pieces that are on some cards only, and what is missing.

    Attributes:
        size: holds whatever sticks out over its edge.
        grams: the whole weight.
        thickness: in millimetres, where it is thickest.
        unevenness: by how many millimetres that is more than where it is thinnest.
        lumps: the names of the extras that do not lie flat.
        missing: the figures that nobody has given.
    """

    size: Size
    grams: Range
    thickness: Range
    unevenness: Range
    lumps: tuple[str, ...]
    missing: tuple[Missing, ...]


def card_figures(project: Project) -> CardFigures:
    """Work out what one card of `project` is, from its exact areas and what truly overlaps."""
    sheets = {paper.name: sheet_figures(paper) for paper in project.papers}
    glued = [piece for piece in project.pieces if not piece.is_apart]
    used = {project.card.paper, *(name for piece in glued for name in piece.papers)}
    thick = _thicknesses(project, sheets)
    spots = tuple(_spots(project))
    heights = [spot.height(thick) for spot in spots]
    return CardFigures(
        size=_finished_size(project),
        grams=_grams(project, sheets),
        thickness=_most(heights),
        unevenness=_most([one.above(other, thick) for other in _thinnest(spots) for one in spots]),
        lumps=tuple(extra.name for extra in project.extras if not extra.flat),
        missing=tuple(
            missing for name, sheet in sheets.items() if name in used for missing in sheet.missing
        ),
    )


@dataclass(frozen=True, slots=True)
class _Spot:
    """What lies over one spot of the card: layers by name, and the millimetres of extras."""

    layers: frozenset[str]
    extras: Fraction

    def height(self, thick: Mapping[str, Range]) -> Range:
        return sum((thick[name] for name in self.layers), Range.exactly(self.extras))

    def above(self, other: "_Spot", thick: Mapping[str, Range]) -> Range:
        """How much higher it is; what lies over both takes no part, known or not."""
        more = _Spot(self.layers - other.layers, self.extras).height(thick)
        less = _Spot(other.layers - self.layers, other.extras).height(thick)
        return Range(more.low - less.high, more.high - less.low)


def sides_words(size: Size, unit: Unit) -> str:
    """Two sides in words: "4 3/8 × 5 3/4 in".

    Each exactly, if both lie on 1/64 in or 0.1 mm; else both to the nearest line of an ordinary
    rule, after "≈".
    """
    sides = [size.width, size.height]
    near = not all(has_short_number(side, unit) for side in sides)
    if near:
        sides = [nearest_mark(side, graduation_for(unit)).mark for side in sides]
    across, up = (write_number(side, unit) for side in sides)
    return f"{'≈ ' if near else ''}{across} × {up} {unit}"


def _finished_size(project: Project) -> Size:
    extents = [front_extent(project), *(placed.extent for placed in laid_out(project))]
    return Size(
        max(extent.right for extent in extents) - min(extent.left for extent in extents),
        max(extent.top for extent in extents) - min(extent.bottom for extent in extents),
    )


def _grams(project: Project, sheets: Mapping[str, SheetFigures]) -> Range:
    total = sheets[project.card.paper].gsm * (project.card.base_size.area / _SQUARE_MM)
    for piece in project.pieces:
        if piece.is_apart:
            continue
        gsm = Range.around(sheets[name].gsm for name in piece.papers)
        # The exact area may hold pi; a double of it is true to far more than any paper is made.
        area = Fraction(float(piece_area(piece))) * piece.per_card / _SQUARE_MM
        total += _if_needed(piece, gsm * area)
    for extra in project.extras:
        total += Range.exactly(extra.grams * extra.per_card)
    return total


def _if_needed(piece: Piece, figure: Range) -> Range:
    return figure if piece.needed else Range(Fraction(0), figure.high)


def _thicknesses(project: Project, sheets: Mapping[str, SheetFigures]) -> dict[str, Range]:
    """In millimetres by layer: each piece with its pads, and the card base, folded.

    Loose copies of a piece may all lie on one another, and count as one.
    """
    leaves = 1 if project.card.fold == "none" else 2
    thick = {BASE: sheets[project.card.paper].mm * leaves}
    for piece in project.pieces:
        sheet = Range.around(sheets[name].mm for name in piece.papers)
        raised = Range.exactly(piece.raised.mm)
        one = sheet + raised
        if piece.spread == "loose":
            thick[piece.name] = _if_needed(piece, one * piece.per_card)
        else:
            thick |= dict.fromkeys(layer_names(piece), _if_needed(piece, one))
    return thick


def _spots(project: Project) -> Iterator[_Spot]:
    """Every pile, bare and with the highest extras that may lie on it.

    An extra lies where what it is on can be seen. Extras of one side lie beside one another; one
    inside may lie behind one on the front.
    """
    found = piles(project)
    inside = _sides(project)
    fronts = [extra for extra in project.extras if not inside[extra.on]]
    insides = [extra for extra in project.extras if inside[extra.on]]
    piece_of = {layer.name: layer.piece.name for layer in project.layers()}
    sides = [
        (pile, [piece_of[name] for name in pile.front], [piece_of[name] for name in pile.inside])
        for pile in found
    ]
    seen = {front[-1] if front else FRONT for _, front, _ in sides}
    seen |= {within[-1] if within else INSIDE for _, _, within in sides}
    for pile, front, within in sides:
        layers = frozenset((*((BASE,) if pile.base else ()), *pile.inside, *pile.front))
        highest = _highest(fronts, (FRONT, *front), seen)
        behind = _highest(insides, (INSIDE, *within), seen)
        yield _Spot(layers, Fraction(0))
        if highest or behind:
            yield _Spot(layers, highest + behind)


def _highest(extras: list[Extra], side: tuple[str, ...], seen: set[str]) -> Fraction:
    """The highest that may lie on this side of a pile; one that nothing shows lies anywhere."""
    here = (
        extra.height.mm
        for extra in extras
        if extra.on == side[-1] or (extra.on in side and extra.on not in seen)
    )
    return max(here, default=Fraction(0))


def _sides(project: Project) -> dict[str, bool]:
    """Whether each thing that an extra may be on lies inside."""
    sides = {placed.piece.name: placed.inside for placed in placements(project)}
    return sides | {FRONT: False, INSIDE: True}


def _thinnest(spots: Sequence[_Spot]) -> list[_Spot]:
    """Spots of the card, bare of extras, such that every other holds all that one of them holds."""
    found: list[_Spot] = []
    for spot in sorted(spots, key=lambda spot: (len(spot.layers), spot.extras)):
        if BASE in spot.layers and not any(one.layers <= spot.layers for one in found):
            found.append(spot)
    return found


def _most(ranges: list[Range]) -> Range:
    """The most of all, as far as it is known: the most of the lows, and of the highs."""
    return Range(max(one.low for one in ranges), max(one.high for one in ranges))
