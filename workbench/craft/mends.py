"""What mends a doubt about pieces: each edit gives a new project.

Every edit raises CraftError where it is of no help, or the new project cannot be.
"""

from dataclasses import replace

from workbench.craft.card import Piece, Place
from workbench.craft.errors import CraftError
from workbench.craft.extent import Extent
from workbench.craft.fitting import changed, nudged, spread_over, taken_away, without_copy
from workbench.craft.geometry import (
    Placement,
    bearer_extent,
    copies_of,
    extent_of,
    front_extent,
    placements,
)
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import ZERO
from workbench.measure.writing import graduation_for, nearest_mark


def uncovered(project: Project, placed: Placement, *, carried: bool) -> Project:
    """What is hidden taken away: the piece, or one of several that are each placed.

    What it has `carried` is glued to what lies below it.
    """
    piece = placed.piece
    if piece.spread == "loose" or piece.per_card == 1:
        return taken_away(project, piece.name)
    if piece.spread != "placed" or carried:
        raise CraftError("place", "the others are seen", "lay them elsewhere")
    return without_copy(project, piece.name, placed.number)


def glued_to(project: Project, placed: Placement, under: Placement) -> Project:
    """The piece where it lies, glued to another that is all under it."""
    piece = placed.piece
    first = next(each for each in placements(project) if each.piece is piece)
    for copy in copies_of(project, first) if piece.spread != "loose" else (placed,):
        if under.extent.borders(copy.extent).least < ZERO or under.number > 1:
            raise CraftError("place", "it lies out over that", "move it")
        if copy.number == 1 or piece.spread == "placed":
            place = Place(copy.x - under.x, copy.y - under.y)
            piece = piece.placed_at(place, copy.number)
    return changed(project, replace(piece, on=under.piece.name))


def laid_apart(project: Project, piece: Piece) -> Project:
    """All of a piece, each in a place of its own: evenly over what they are glued to.

    They go from left to right or from bottom to top, whichever leaves more between them.
    """
    bearer, count = bearer_extent(project, piece.name), piece.per_card
    across = (bearer.width - piece.size.width * count) / (count + 1)
    upward = (bearer.height - piece.size.height * count) / (count + 1)
    gap = max(across, upward)
    rule = graduation_for(project.units)
    if gap < rule.interval:
        raise CraftError("place", "there is no room for all of them", "make them smaller")
    side = piece.size.width if across > upward else piece.size.height
    starts = [nearest_mark(gap + (gap + side) * number, rule).mark for number in range(count)]
    if across > upward:
        places = [Place(start, piece.place.y) for start in starts]
    else:
        places = [Place(piece.place.x, start) for start in starts]
    first, *others = places
    apart = replace(piece, spread="placed", place=first, places=tuple(others))
    return changed(project, apart)


def pulled_in(project: Project, name: str, number: int) -> Project:
    """The piece moved onto the card and what it is glued to, or cut down to the room there."""
    front, bearer = front_extent(project), bearer_extent(project, name)
    room = bearer.shared(front) or bearer
    extent = extent_of(project, name, number)
    width, height = min(extent.width, room.width), min(extent.height, room.height)
    left = min(max(extent.left, room.left), room.right - width)
    bottom = min(max(extent.bottom, room.bottom), room.top - height)
    if project.piece(name).spread == "placed":
        if (width, height) != (extent.width, extent.height):
            raise CraftError("size", "it is larger than the room there is", "make it smaller")
        return nudged(project, name, left - extent.left, bottom - extent.bottom, number)
    if number > 1:
        raise CraftError("place", "it lies as the first one does", "move that")
    return spread_over(project, name, Extent.of(left, bottom, Size(width, height)))


def cut_from(project: Project, piece: Piece, papers: tuple[str, ...]) -> Project:
    """The piece cut from these papers alone."""
    return changed(project, replace(piece, papers=papers))
