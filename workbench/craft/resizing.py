"""The same card in another size: borders stay, the rest follows."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from workbench.craft.card import FRONT, Place
from workbench.craft.fitting import resized
from workbench.craft.geometry import bearer_extent, copies_of, placements
from workbench.craft.own_step import OwnStep
from workbench.craft.paper import Size
from workbench.craft.project import Project, put_back
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.writing import graduation_for, nearest_mark

# A gap of at most this share of what a piece is glued to is a border; a wider one follows.
_BORDER = Fraction(1, 8)


def in_size(project: Project, size: Size) -> Project:
    """The same card with a front of `size`.

    Borders of at most an eighth of what a piece is glued to keep their width. What is between them
    follows, and other sides and places grow in proportion to the nearest mark of an ordinary rule.

    Raises:
        CraftError: where something cannot be cut from its paper any more.
    """
    if size == project.card.size:
        return project
    new: dict[str, Size] = {}
    pieces = []
    for placed in placements(project):
        piece = placed.piece
        bearer = bearer_extent(project, piece.name)
        bearer_after = new.get(piece.on, size)
        borders = bearer.borders(placed.extent)
        across = _Line(borders.left, piece.size.width, borders.right, project.units)
        up = _Line(borders.bottom, piece.size.height, borders.top, project.units)
        width, x = across.follow(bearer_after.width)
        height, y = up.follow(bearer_after.height)
        new[piece.name] = Size(width, height)
        after = resized(piece, new[piece.name]).placed_at(_placed(piece.place, x, y))
        for copy in copies_of(project, placed)[1:] if piece.places else ():
            around = bearer.borders(copy.extent)
            across = replace(across, before=around.left, after=around.right)
            up = replace(up, before=around.bottom, after=around.top)
            x, y = across.place(bearer_after.width, width), up.place(bearer_after.height, height)
            place = _placed(piece.place_of(copy.number), x, y)
            after = after.placed_at(place, copy.number)
        pieces.append(after)
    steps = tuple(_followed(project, step, {FRONT: size, **new}) for step in project.steps)
    card = replace(project.card, size=size)
    return replace(project, card=card, pieces=put_back(project, pieces), steps=steps)


def _placed(place: Place, x: Length, y: Length) -> Place:
    """The place at these lengths; where it was a word, it stays one."""
    return Place(
        x if isinstance(place.x, Length) else place.x,
        y if isinstance(place.y, Length) else place.y,
    )


def _followed(project: Project, step: OwnStep, new: Mapping[str, Size]) -> OwnStep:
    """The step with its holes where they were in proportion, in what has a new size now."""
    was = project.card.size if step.on == FRONT else project.piece(step.on).size
    now = new.get(step.on, was)
    holes = tuple(
        replace(
            hole,
            x=hole.x * now.width.ratio(was.width),
            y=hole.y * now.height.ratio(was.height),
        )
        for hole in step.holes
    )
    return replace(step, holes=holes)


@dataclass(frozen=True)
class _Line:
    """A piece and the gaps on its two sides, along one side of what it is glued to."""

    before: Length
    side: Length
    after: Length
    unit: Unit

    def follow(self, whole: Length) -> tuple[Length, Length]:
        """The side of the piece on something `whole` long, and the gap before it."""
        was = self.before + self.side + self.after
        share = whole.ratio(was)
        first, last = self._is_border(self.before, was), self._is_border(self.after, was)
        if first and last:
            return self._at_least(whole - self.before - self.after), self.before
        side = self._at_least(self._marked(self.side * share))
        return side, self.place(whole, side)

    def place(self, whole: Length, side: Length) -> Length:
        """The gap before the piece on something `whole` long, when it is `side` long there."""
        was = self.before + self.side + self.after
        if self._is_border(self.before, was):
            return self.before
        if self._is_border(self.after, was):
            return max(ZERO, whole - self.after - side)
        return self._marked(self.before * whole.ratio(was))

    def _is_border(self, gap: Length, whole: Length) -> bool:
        return gap <= whole * _BORDER

    def _marked(self, length: Length) -> Length:
        return nearest_mark(length, graduation_for(self.unit)).mark

    def _at_least(self, side: Length) -> Length:
        """What is left between borders that are too wide is one mark, for the maker to mend."""
        return max(side, graduation_for(self.unit).interval)
