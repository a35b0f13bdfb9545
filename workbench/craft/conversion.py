"""The same card in the other unit: every size on a mark of that unit's rule, and still fitting."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from workbench.craft.card import BASE, FRONT, Piece, Place
from workbench.craft.geometry import Placement, bearer_extent, copies_of, placements
from workbench.craft.own_step import OwnStep
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, put_back
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.writing import Graduation, graduation_for, nearest_mark

# A sixteenth that lies as far off as this is halved, so that millimetres come back as they were.
_FAR = Length(Fraction(1, 2))
_HALVED = Graduation("in", Fraction(1, 32))


def in_unit(
    project: Project, unit: Unit, papers: Sequence[Paper] | None = None, *, down: bool = False
) -> Project:
    """The card drawn up anew in `unit`. Sheets and offcuts are as large as they are.

    Sizes and places go to the nearest mark, but down where else a piece would no longer fit what
    it is glued to, or fewer would lie side by side on a sheet of `papers`: those of the project
    under the same names, or the very same if not given. With `down` every size of a piece goes
    down, so that rows of different pieces that filled a sheet still do.

    Raises:
        CraftError: where a piece fits on no sheet of the project any more.
    """
    if unit == project.units:
        return project
    sheets = {paper.name: paper for paper in papers or project.papers}
    front = _Fitting(unit, _sheets_of(project, sheets, BASE)).size(
        project.card.size, _times(project)
    )

    def fitting(piece: Piece) -> _Fitting:
        return _Fitting(unit, _sheets_of(project, sheets, piece.name), down=down)

    new: dict[str, Piece] = {}
    for placed in placements(project):
        piece = placed.piece
        room = new[piece.on].size if piece.on in new else front
        new[piece.name] = _within(project, placed, room, fitting(piece))
    for piece in project.pieces:
        if piece.is_apart:
            fit = fitting(piece)
            new[piece.name] = fit.resized(piece, fit.size(piece.size, (1, 1)))
    sizes = {FRONT: front, **{name: piece.size for name, piece in new.items()}}
    return replace(
        project,
        units=unit,
        card=replace(project.card, size=front),
        pieces=put_back(project, new.values()),
        steps=tuple(_punched(step, sizes[step.on], unit) for step in project.steps),
    )


def _within(project: Project, placed: Placement, room: Size, fitting: "_Fitting") -> Piece:
    """The piece converted, all copies in their places, on what is as large as `room` now."""
    piece, bearer = placed.piece, bearer_extent(project, placed.piece.name)
    width = fitting.within(piece.size.width, bearer.width, room.width)
    height = fitting.within(piece.size.height, bearer.height, room.height)
    after = fitting.resized(piece, Size(width, height))
    for copy in copies_of(project, placed)[: len(piece.places) + 1]:
        borders, place = bearer.borders(copy.extent), piece.place_of(copy.number)
        x, y = place.x, place.y
        if isinstance(x, Length):
            x = _place(x, borders.right, room.width - width, fitting.unit)
        if isinstance(y, Length):
            y = _place(y, borders.top, room.height - height, fitting.unit)
        after = after.placed_at(Place(x, y), copy.number)
    return after


def marked(length: Length, unit: Unit) -> Length:
    """The nearest mark of an ordinary rule; in inches halfway between two where that is nearer."""
    mark = nearest_mark(length, graduation_for(unit)).mark
    if unit == "in" and abs(mark - length) >= _FAR:
        return nearest_mark(length, _HALVED).mark
    return mark


class _Fitting:
    """Marks for the sides of a piece cut from sheets with sides of these lengths."""

    def __init__(self, unit: Unit, sheets: Sequence[Length], *, down: bool = False) -> None:
        self.unit = unit
        self.sheets = sheets
        self.down = down

    def size(self, size: Size, times: tuple[int, int]) -> Size:
        """Both sides converted; `times` says how many fronts long each is, 2 where a base folds."""
        return Size(self.side(size.width, times[0]), self.side(size.height, times[1]))

    def side(self, side: Length, times: int = 1) -> Length:
        """The nearest mark, or the one below where fewer would lie side by side on a sheet."""
        mark = max(marked(side, self.unit), graduation_for(self.unit).interval)
        if mark > side and (self.down or self._loses(mark * times, side * times)):
            return self.below(side)
        return mark

    def _loses(self, mark: Length, side: Length) -> bool:
        """Whether fewer lie side by side on a sheet."""
        return any(_count(sheet, mark) < _count(sheet, side) for sheet in self.sheets)

    def within(self, side: Length, bearer: Length, room: Length) -> Length:
        """A side that stays within the room it had before on what it is glued to."""
        mark = self.side(side)
        if side == bearer and room <= mark:
            return room
        return min(mark, room) if side <= bearer else mark

    def resized(self, piece: Piece, size: Size) -> Piece:
        """The piece in another size, its corners rounded to a mark."""
        rounding = piece.rounding
        if rounding:
            most = min(size.width, size.height) / 2
            mark = max(marked(rounding.radius, self.unit), graduation_for(self.unit).interval)
            rounding = replace(rounding, radius=min(mark, most))
        return replace(piece, size=size, rounding=rounding)

    def below(self, side: Length) -> Length:
        """The mark below, halved as in `marked` where it would lie far off."""
        interval = graduation_for(self.unit).interval
        if self.unit == "in":
            interval = _HALVED.interval
        return max(interval, interval * math.floor(side.ratio(interval)))


def _count(sheet: Length, side: Length) -> int:
    return math.floor(sheet.ratio(side))


def _times(project: Project) -> tuple[int, int]:
    return {"top": (1, 2), "side": (2, 1), "none": (1, 1)}[project.card.fold]


def _sheets_of(project: Project, papers: Mapping[str, Paper], name: str) -> tuple[Length, ...]:
    """The sides of all sheets that the piece of that name, or the base, may be cut from."""
    names = (project.card.paper,) if name == BASE else project.piece(name).papers
    return tuple(side for paper in names for side in _sides(papers[paper]))


def _sides(paper: Paper) -> Iterator[Length]:
    yield paper.usable.width
    yield paper.usable.height


def _place(before: Length, after: Length, room: Length, unit: Unit) -> Length:
    """The gap before a piece: flush stays flush, and what was on the card stays on it."""
    if not before:
        return ZERO
    if not after:
        return max(room, ZERO)
    place = marked(before, unit)
    return max(ZERO, min(place, room)) if after > ZERO else place


def _punched(step: OwnStep, size: Size, unit: Unit) -> OwnStep:
    """The step with its holes on marks; a punch makes them as large as it did."""
    holes = tuple(
        replace(
            hole,
            x=_between(marked(hole.x, unit), hole.size.width / 2, size.width),
            y=_between(marked(hole.y, unit), hole.size.height / 2, size.height),
        )
        for hole in step.holes
    )
    return replace(step, holes=holes)


def _between(place: Length, half: Length, whole: Length) -> Length:
    return max(half, min(place, whole - half))
