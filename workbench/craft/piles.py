"""Which pieces of a card lie over one another, exactly, rounded corners and all."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from workbench.craft.arcs import Quarter, covering_sets
from workbench.craft.card import BASE
from workbench.craft.extent import Extent
from workbench.craft.geometry import front_extent
from workbench.craft.project import Project
from workbench.craft.surface import Shape, shapes_on
from workbench.measure.length import Length


@dataclass(frozen=True, slots=True)
class Pile:
    """What lies over some spot of the folded card: names of pieces, each side back to front.

    `base` says whether the card itself lies there, and not only what sticks out over its edge.
    """

    base: bool
    inside: tuple[str, ...]
    front: tuple[str, ...]


def piles(project: Project) -> frozenset[Pile]:
    """Every different pile of a card. Inside panels lie behind the front, at the same place."""
    fronts, insides = shapes_on(project, inside=False), shapes_on(project, inside=True)
    shapes = {BASE: Shape(front_extent(project))} | insides | fronts
    return frozenset(
        Pile(
            base=BASE in names,
            inside=tuple(name for name in insides if name in names),
            front=tuple(name for name in fronts if name in names),
        )
        for names in _covering(shapes)
        if names
    )


def _covering(shapes: Mapping[str, Shape]) -> set[frozenset[str]]:
    """The sets of shapes that some spot lies under."""
    found: set[frozenset[str]] = set()
    plain: set[tuple[str, ...]] = set()  # columns without an arc: all that hold the same are alike
    for left, right in pairwise(_edges(shapes, upright=True)):
        within = {
            name: shape
            for name, shape in shapes.items()
            if shape.extent.left <= left and right <= shape.extent.right
        }
        curved = any(
            square.left <= left and right <= square.right
            for shape in within.values()
            for square in shape.quarters
        )
        if not curved and tuple(within) in plain:
            continue
        if not curved:
            plain.add(tuple(within))
        for bottom, top in pairwise(_edges(within, upright=False)):
            found.update(_covering_in(Extent(left, bottom, right, top), within))
    return found


def _edges(shapes: Mapping[str, Shape], *, upright: bool) -> list[Length]:
    return sorted(
        {
            edge
            for shape in shapes.values()
            for part in (shape.extent, *shape.quarters)
            for edge in ((part.left, part.right) if upright else (part.bottom, part.top))
        }
    )


def _covering_in(cell: Extent, shapes: Mapping[str, Shape]) -> Iterator[frozenset[str]]:
    """The sets of shapes over the spots of a cell that no straight edge crosses."""
    whole, rounded = set[str](), dict[str, Quarter]()
    for name, shape in shapes.items():
        if shape.extent.bottom <= cell.bottom and cell.top <= shape.extent.top:
            quarter = shape.quarter_in(cell)
            if quarter is None:
                whole.add(name)
            else:
                rounded[name] = quarter
    if not rounded:
        yield frozenset(whole)
        return
    for over in covering_sets(cell, tuple(rounded.values())):
        yield frozenset((*whole, *(name for name, quarter in rounded.items() if quarter in over)))
