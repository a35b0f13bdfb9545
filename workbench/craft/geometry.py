"""Where the pieces lie on the card, exactly."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import INSIDE, Across, Piece, Place, Up
from workbench.craft.extent import Borders, Extent
from workbench.craft.paper import Size
from workbench.craft.project import Project, layer_names
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.writing import graduation_for, nearest_mark

_SHARES: dict[Across | Up, Fraction] = {
    "left": Fraction(0),
    "bottom": Fraction(0),
    "centre": Fraction(1, 2),
    "right": Fraction(1),
    "top": Fraction(1),
}


@dataclass(frozen=True, slots=True)
class Placement:
    """A piece where it lies on the card.

    Attributes:
        piece: the piece.
        x: from the left edge of the card to the piece's.
        y: from the bottom edge of the card to the piece's.
        inside: whether it lies inside the card and not on its front.
        number: which of the piece's copies on the card it is, from 1.
    """

    piece: Piece
    x: Length
    y: Length
    inside: bool
    number: int = 1

    @property
    def layer(self) -> str:
        """The name of the layer it is."""
        return layer_names(self.piece)[self.number - 1]

    @property
    def extent(self) -> Extent:
        """The rectangle it covers."""
        return Extent.of(self.x, self.y, self.piece.size)


def placements(project: Project) -> tuple[Placement, ...]:
    """Where every piece of a project lies, back to front, once each however many a card has.

    Pieces that go with the card and are glued to nothing lie nowhere on it and are left out.
    """
    found: dict[str, Placement] = {}
    for piece in project.pieces:
        if piece.is_apart:
            continue
        under = found.get(piece.on)
        bearer = under.piece.size if under else project.card.size
        x, y = _offset(piece.place, bearer, piece.size)
        found[piece.name] = Placement(
            piece,
            (under.x if under else ZERO) + x,
            (under.y if under else ZERO) + y,
            inside=under.inside if under else piece.on == INSIDE,
        )
    return tuple(found.values())


def copies_of(project: Project, placed: Placement) -> tuple[Placement, ...]:
    """Where every copy of a piece lies, the first as it is placed; loose ones lie on that.

    The places of a row are rounded to an ordinary rule.
    """
    return _copies(placed, bearer_extent(project, placed.piece.name), project.units)


def laid_out(project: Project) -> tuple[Placement, ...]:
    """Where every single copy of every piece lies, back to front.

    Loose ones, which may lie anywhere, are there once, as they are drawn.
    """
    placed = placements(project)
    extents = {each.piece.name: each.extent for each in placed}
    front = front_extent(project)
    return tuple(
        copy
        for each in placed
        for copy in (
            (each,)
            if each.piece.spread == "loose"
            else _copies(each, extents.get(each.piece.on, front), project.units)
        )
    )


def _copies(placed: Placement, around: Extent, unit: Unit) -> tuple[Placement, ...]:
    """Where every copy of a piece lies that is glued to what covers `around`."""
    first, piece = placed.extent, placed.piece
    across, up = _mirrored(first.left, first.width, around.left, around.right), first.bottom
    over = _mirrored(first.bottom, first.height, around.bottom, around.top)
    places: list[tuple[Length, Length]] = []
    if piece.spread == "mirrored":
        places = [(first.left, up), (across, up), (first.left, over), (across, over)]
    elif piece.spread == "in a row" and piece.per_card > 1:
        gap = (across - first.left) / (piece.per_card - 1)
        rule = graduation_for(unit)
        row = (nearest_mark(gap * number, rule).mark for number in range(piece.per_card))
        places = [(first.left + along, up) for along in row]
    elif piece.spread == "placed":
        bearer = Size(around.width, around.height)
        offsets = (
            _offset(piece.place_of(number), bearer, piece.size)
            for number in range(1, piece.per_card + 1)
        )
        return tuple(
            Placement(piece, around.left + x, around.bottom + y, placed.inside, number)
            for number, (x, y) in enumerate(offsets, 1)
        )
    apart = list(dict.fromkeys(places))[: piece.per_card]
    apart += [(first.left, first.bottom)] * (piece.per_card - len(apart))
    return tuple(
        Placement(piece, x, y, placed.inside, number) for number, (x, y) in enumerate(apart, 1)
    )


def _mirrored(low: Length, side: Length, start: Length, end: Length) -> Length:
    """Where something `side` long begins as far from `end` as it does from `start` at `low`."""
    return end - (low - start) - side


def also_under(project: Project, placed: Placement) -> tuple[Placement, ...]:
    """What a copy of a piece lies on besides what it is glued to, back to front.

    These lie higher than that; something no higher bears it as well.
    """
    level: dict[str, int] = {}
    found: list[Placement] = []
    for other in laid_out(project):
        if other.piece is placed.piece:
            glued = level.get(placed.piece.on, 0)
            return tuple(each for each in found if level[each.piece.name] > glued)
        level[other.piece.name] = level.get(other.piece.on, 0) + 1
        if other.inside == placed.inside and other.extent.shared(placed.extent):
            found.append(other)
    return ()


def punched(project: Project, *, inside: bool) -> Iterator[tuple[str, Extent]]:
    """The holes and slots of the front, or of what lies inside: in what, and where on the card.

    What they are in is a piece's name or "card", or "" for a hole through all of it, as it is
    punched last; what is behind shows through.
    """
    lie = laid_out(project)
    for step in project.steps:
        under = [(each.x, each.y, each.inside) for each in lie if each.piece.name == step.on]
        for x, y, within in under or [(ZERO, ZERO, False)]:
            for hole in step.holes if within == inside else ():
                around = hole.extent
                yield (
                    "" if step.when == "last" else step.on,
                    Extent.of(x + around.left, y + around.bottom, hole.size),
                )


def front_extent(project: Project) -> Extent:
    """The front of the card; an inside panel has as much room."""
    return Extent.of(ZERO, ZERO, project.card.size)


def extent_of(project: Project, name: str, number: int = 1) -> Extent:
    """The rectangle that the piece called `name` covers on the card; by itself if it lies apart.

    Of several on a card, that of the `number` from 1.

    Raises:
        KeyError: where the project has no such piece.
    """
    piece = project.piece(name)
    if piece.is_apart:
        return Extent.of(ZERO, ZERO, piece.size)
    placed = next(placed for placed in placements(project) if placed.piece is piece)
    return copies_of(project, placed)[number - 1].extent if number > 1 else placed.extent


def bearer_extent(project: Project, name: str) -> Extent:
    """What the piece called `name` is glued to: the front, the inside, another piece, or itself.

    Raises:
        KeyError: where the project has no such piece.
    """
    if project.piece(name).is_apart:
        return extent_of(project, name)
    on = project.piece(name).on
    found = {placed.piece.name: placed.extent for placed in placements(project)}
    return found.get(on, front_extent(project))


def borders_of(project: Project, name: str, number: int = 1) -> Borders:
    """The borders that the piece called `name` leaves on what it is glued to.

    Of several on a card, those of the `number` from 1.

    Raises:
        KeyError: where the project has no such piece.
    """
    return bearer_extent(project, name).borders(extent_of(project, name, number))


def top_piece_at(project: Project, x: Length, y: Length, *, inside: bool) -> Placement | None:
    """The piece seen at a point of the front or the inside; None where that is the card itself.

    Of several on a card, the one that is seen there.

    Args:
        project: the card.
        x: from the left edge of the card.
        y: from the bottom edge of the card.
        inside: whether the point is inside the card and not on its front.
    """
    for placed in reversed(laid_out(project)):
        extent = placed.extent
        across, up = extent.left <= x < extent.right, extent.bottom <= y < extent.top
        if placed.inside == inside and across and up:
            return placed
    return None


def _offset(place: Place, bearer: Size, size: Size) -> tuple[Length, Length]:
    return (
        _along(place.x, bearer.width - size.width),
        _along(place.y, bearer.height - size.height),
    )


def _along(where: Across | Up | Length, room: Length) -> Length:
    return where if isinstance(where, Length) else room * _SHARES[where]
