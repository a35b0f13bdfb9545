"""Sizing and placing pieces by what lies around them: each edit gives a new project.

Every edit raises CraftError where the new project cannot be, and KeyError where the project has
no piece called `name`.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from workbench.craft.card import Across, Piece, Place, Spread, Up
from workbench.craft.errors import LONGEST_NAME, CraftError
from workbench.craft.extent import Extent
from workbench.craft.extra import Extra
from workbench.craft.geometry import bearer_extent, copies_of, extent_of, placements
from workbench.craft.mixing import Mixing
from workbench.craft.own_step import OwnStep
from workbench.craft.paper import Size
from workbench.craft.project import Project, layer_names
from workbench.measure.length import ZERO, Length

Side = Literal["left", "right", "bottom", "top"]


def changed(project: Project, piece: Piece) -> Project:
    """The project with `piece` in place of its piece of the same name."""
    return replace(
        project,
        pieces=tuple(piece if each.name == piece.name else each for each in project.pieces),
    )


def resized(piece: Piece, size: Size) -> Piece:
    """The piece in another size, its corners rounded no further than that allows."""
    rounding = piece.rounding
    if rounding:
        most = replace(piece, size=size, rounding=None).largest_radius
        rounding = replace(rounding, radius=min(rounding.radius, most))
    return replace(piece, size=size, rounding=rounding)


def nudged(project: Project, name: str, right: Length, up: Length, number: int = 1) -> Project:
    """Move the piece to the `right` and `up`, or the other way where they are below ZERO.

    A place that was a word ("centre") becomes a length in each direction that moves. Of several
    that are each placed, the `number` from 1 moves.
    """
    extent = extent_of(project, name, number)
    return _put(
        project,
        name,
        x=extent.left + right if right else None,
        y=extent.bottom + up if up else None,
        number=number,
    )


def dragged(project: Project, name: str, right: Length, up: Length, number: int) -> Project:
    """Move the piece's copy of that `number` so far; the others of a pattern follow in it.

    What moves the last of a row to the right, or one mirrored across, moves the first to the left.
    """
    piece = project.piece(name)
    if piece.spread in ("mirrored", "in a row") and number > 1:
        first, copy = extent_of(project, name), extent_of(project, name, number)
        right = -right if copy.left != first.left else right
        up = -up if copy.bottom != first.bottom else up
    return nudged(project, name, right, up, number if piece.spread == "placed" else 1)


def aligned(
    project: Project,
    name: str,
    across: Across | None = None,
    up: Up | None = None,
    number: int = 1,
) -> Project:
    """Place the piece at an edge or the centre of what it is glued to; None leaves a direction."""
    piece = project.piece(name)
    now = piece.place_of(number)
    return changed(project, piece.placed_at(Place(across or now.x, up or now.y), number))


def flush(project: Project, name: str, other: str, side: Side, number: int = 1) -> Project:
    """Move the piece so that its edge at `side` is in line with that edge of the piece `other`."""
    mine, theirs = extent_of(project, name, number), extent_of(project, other)
    way = {
        "left": theirs.left - mine.left,
        "right": theirs.right - mine.right,
        "bottom": theirs.bottom - mine.bottom,
        "top": theirs.top - mine.top,
    }[side]
    level = side in ("left", "right")
    return nudged(project, name, way if level else ZERO, ZERO if level else way, number)


def bordered(project: Project, name: str, border: Length, number: int = 1) -> Project:
    """Size and centre the piece to leave a border of that width all round it."""
    bearer = bearer_extent(project, name)
    size = Size(bearer.width - border * 2, bearer.height - border * 2)
    if size.width <= ZERO or size.height <= ZERO:
        raise CraftError(
            f'piece "{name}"', "a border that wide leaves nothing of it", "give a narrower one"
        )
    return changed(project, resized(project.piece(name), size).placed_at(Place(), number))


def narrower(project: Project, name: str, by: Length, number: int = 1) -> Project:
    """Size the piece `by` less each way than what it is glued to, and centre it there."""
    return bordered(project, name, by / 2, number)


def spread_out(project: Project, name: str, spread: Spread) -> Project:
    """Lay the copies of the piece in another way; each in its own place, they first stay."""
    piece = project.piece(name)
    if spread != "placed":
        return changed(project, replace(piece, spread=spread, places=()))
    return each_placed(project, name)


def each_placed(project: Project, name: str, kept: Sequence[Place] = ()) -> Project:
    """Give each copy of the piece a place of its own.

    Those after the first lie at `kept`, as far as that goes; others where they lie now, and loose
    ones in a row.
    """
    piece = project.piece(name)
    places = tuple(kept[: piece.per_card - 1])
    if len(places) == piece.per_card - 1:
        return changed(project, replace(piece, spread="placed", places=places))
    if piece.is_apart:
        raise CraftError(
            f'piece "{name}"', "what is glued to nothing has no place", "let it be loose"
        )
    if piece.spread == "loose":
        piece = replace(piece, spread="in a row")
        project = changed(project, piece)
    bearer = bearer_extent(project, name)
    placed = next(each for each in placements(project) if each.piece is piece)
    there = copies_of(project, placed)[1 + len(places) :]
    places += tuple(Place(each.x - bearer.left, each.y - bearer.bottom) for each in there)
    return changed(project, replace(piece, spread="placed", places=places))


def without_copy(project: Project, name: str, number: int) -> Project:
    """Take one of several that are each placed off every card: the `number`, from 1."""
    piece = project.piece(name)
    first, *rest = (piece.place_of(each) for each in range(1, piece.per_card + 1) if each != number)
    return changed(
        project,
        replace(piece, per_card=piece.per_card - 1, place=first, places=tuple(rest)),
    )


def spread_over(project: Project, name: str, extent: Extent) -> Project:
    """Size and place the piece to cover `extent` of the card."""
    piece = project.piece(name)
    sized = changed(project, resized(piece, Size(extent.width, extent.height)))
    now = extent_of(sized, name)
    return _put(
        sized,
        name,
        x=extent.left if now.left != extent.left else None,
        y=extent.bottom if now.bottom != extent.bottom else None,
    )


def copied(project: Project, name: str) -> Project:
    """Add a copy just in front of the piece, glued where it is, under a name of its own."""
    piece = project.piece(name)
    at = project.pieces.index(piece) + 1
    taken = {layer.name for layer in project.layers()} | {each.name for each in project.pieces}
    number = 1
    while taken.intersection(layer_names(replace(piece, name=_copy_name(name, number)))):
        number += 1
    copy = replace(piece, name=_copy_name(name, number))
    return replace(project, pieces=(*project.pieces[:at], copy, *project.pieces[at:]))


def taken_away(project: Project, name: str) -> Project:
    """Remove the piece; what is glued to it stays where it is, glued to what lies below."""
    piece = project.piece(name)
    base = bearer_extent(project, name)
    pieces = []
    for each in project.pieces:
        if each.on == name:
            moved = replace(each, on=piece.on)
            for number in range(1, len(each.places) + 2):
                extent = extent_of(project, each.name, number)
                place = Place(
                    _checked(extent.left - base.left, each.name),
                    _checked(extent.bottom - base.bottom, each.name),
                )
                moved = moved.placed_at(place, number)
            pieces.append(moved)
        elif each is not piece:
            pieces.append(each)
    return replace(
        project,
        pieces=tuple(pieces),
        mixing=unfixed(project, name),
        extras=extras_put_on(project, name, piece.on),
        steps=tuple(step for step in project.steps if step.on != name),
    )


def extras_put_on(project: Project, name: str, other: str) -> tuple[Extra, ...]:
    """All extras, those that lie on the piece `name` moved to the piece `other`."""
    return tuple(
        replace(extra, on=other) if extra.on == name else extra for extra in project.extras
    )


def steps_put_on(project: Project, name: str, other: str) -> tuple[OwnStep, ...]:
    """The maker's own steps, those of the piece of that name done to another instead."""
    return tuple(replace(step, on=other) if step.on == name else step for step in project.steps)


def unfixed(project: Project, name: str) -> Mixing:
    """The project's rules of mixing, with what the piece called `name` shows fixed on no card."""
    gone = layer_names(project.piece(name))
    cards = (
        replace(
            card, shows={layer: face for layer, face in card.shows.items() if layer not in gone}
        )
        for card in project.mixing.cards
    )
    kept = tuple(card for card in cards if card.shows)
    others = (piece for piece in project.pieces if piece.name != name and project.mixed(piece))
    ticked = {paper for piece in others for paper in piece.papers}
    return replace(project.mixing.without_piece(name).counting_only(ticked), cards=kept)


def _put(
    project: Project, name: str, *, x: Length | None, y: Length | None, number: int = 1
) -> Project:
    """Place the piece by its left and bottom edges on the card; None leaves one as it is."""
    piece, bearer = project.piece(name), bearer_extent(project, name)
    now = piece.place_of(number)
    place = Place(
        now.x if x is None else _checked(x - bearer.left, name),
        now.y if y is None else _checked(y - bearer.bottom, name),
    )
    return changed(project, piece.placed_at(place, number))


def _checked(place: Length, name: str) -> Length:
    if place < ZERO:
        raise CraftError(
            f'piece "{name}"',
            "that is beyond the left or the bottom edge of what it is glued to",
            "glue it to something larger first",
        )
    return place


def _copy_name(name: str, number: int) -> str:
    """The name of a copy; its number stands before, as numbers at the end count layers."""
    copy = f"copy of {name}" if number == 1 else f"copy {number} of {name}"
    return copy[:LONGEST_NAME].rstrip()
