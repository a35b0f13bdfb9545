"""Which pieces of a card lie over one another, exactly, rounded corners and all."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
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
    """What lies over some spot of the folded card: names of layers, each side back to front.

    Loose copies of a piece count as one layer.

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
    across, up = (_Line.of(shapes.values(), upright=upright) for upright in (True, False))
    found: set[frozenset[str]] = set()
    plain: set[tuple[str, ...]] = set()  # columns without an arc: all that hold the same are alike
    spans = {name: across.span(shape.extent) for name, shape in shapes.items()}
    arcs = {
        name: [(across.span(square), quarter) for square, quarter in shape.quarters.items()]
        for name, shape in shapes.items()
    }
    for column in range(len(across.edges) - 1):
        within = tuple(name for name, (start, end) in spans.items() if start <= column < end)
        curved = {
            name: [(up.span(quarter.square), quarter) for _, quarter in here]
            for name in within
            if (here := [arc for arc in arcs[name] if arc[0][0] <= column < arc[0][1]])
        }
        if not curved and within in plain:
            continue
        if not curved:
            plain.add(within)
        rows = {name: up.span(shapes[name].extent) for name in within}
        left, right = across.edges[column : column + 2]
        for bottom, top in pairwise(_changes(rows, curved)):
            cell = Extent(left, up.edges[bottom], right, up.edges[top])
            found.update(_covering_in(cell, bottom, rows, curved))
    return found


_Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Line:
    """Every place along one side at which an edge lies, and its number among them."""

    edges: list[Length]
    number: Mapping[Length, int]
    upright: bool

    @classmethod
    def of(cls, shapes: Iterable[Shape], *, upright: bool) -> "_Line":
        parts = (part for shape in shapes for part in (shape.extent, *shape.quarters))
        edges = sorted({edge for part in parts for edge in _ends(part, upright=upright)})
        return cls(edges, {edge: number for number, edge in enumerate(edges)}, upright)

    def span(self, part: Extent) -> _Span:
        """The numbers of the two ends of a rectangle."""
        start, end = _ends(part, upright=self.upright)
        return self.number[start], self.number[end]


def _ends(part: Extent, *, upright: bool) -> tuple[Length, Length]:
    return (part.left, part.right) if upright else (part.bottom, part.top)


def _changes(
    rows: Mapping[str, _Span], curved: Mapping[str, Sequence[tuple[_Span, Quarter]]]
) -> list[int]:
    """The numbers of the heights at which something in a column begins or ends."""
    spans = [*rows.values(), *(span for here in curved.values() for span, _ in here)]
    return sorted({number for span in spans for number in span})


def _covering_in(
    cell: Extent,
    bottom: int,
    rows: Mapping[str, _Span],
    curved: Mapping[str, Sequence[tuple[_Span, Quarter]]],
) -> Iterator[frozenset[str]]:
    """The sets of shapes over the spots of a cell that no straight edge crosses."""
    whole, rounded = set[str](), dict[str, Quarter]()
    for name, (start, end) in rows.items():
        if start <= bottom < end:
            here = (
                quarter for (low, high), quarter in curved.get(name, ()) if low <= bottom < high
            )
            quarter = next(here, None)
            if quarter is None:
                whole.add(name)
            else:
                rounded[name] = quarter
    if not rounded:
        yield frozenset(whole)
        return
    for over in covering_sets(cell, tuple(rounded.values())):
        yield frozenset((*whole, *(name for name, quarter in rounded.items() if quarter in over)))
