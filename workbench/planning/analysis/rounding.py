"""What becomes of the pieces when every cut is made at the nearest mark of the rule."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from workbench.craft.card import BASE, Piece
from workbench.craft.direction import Direction
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import ZERO, Length
from workbench.measure.writing import Graduation, nearest_mark
from workbench.planning.result import Part, PartId, Plan


@dataclass(frozen=True, slots=True)
class Misfit:
    """A piece that comes out another size than wanted, by more than half a graduation.

    `sheets`: those it is cut from. `actual` is the size farthest from `wanted`, along `side`.
    """

    piece: str
    side: Direction
    wanted: Length
    actual: Length
    sheets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Overhang:
    """A piece that sticks out over what it is glued to, though by its sizes it would not."""

    piece: str
    on: str
    side: Direction
    by: Length


def off_graduation(plan: Plan, graduation: Graduation) -> tuple[Length, ...]:
    """The marks set for cutting that no line of the rule shows, the smallest first."""
    marks = {cut.mark for cut in plan.cuts}
    return tuple(sorted(mark for mark in marks if nearest_mark(mark, graduation).off))


def misfits(plan: Plan, graduation: Graduation) -> tuple[Misfit, ...]:
    """The pieces that do not come out as they should where every mark is rounded.

    A piece is off by half a graduation at most where it is measured itself; one that is what
    other cuts leave takes on all that those were rounded by.
    """
    sizes = rounded_sizes(plan, graduation)
    found: dict[tuple[str, Direction, Length], list[tuple[Length, str]]] = defaultdict(list)
    for sheet in plan.sheets:
        for part in sheet.parts:
            if not part.piece:
                continue
            for side, wanted, actual in _sides(part, sizes[sheet.part_id(part)]):
                if abs(actual - wanted) * 2 > graduation.interval:
                    found[part.piece, side, wanted].append((actual, sheet.id))
    return tuple(
        Misfit(
            piece,
            side,
            wanted,
            max((actual for actual, _ in cases), key=lambda actual: abs(actual - wanted)),
            tuple(dict.fromkeys(sheet for _, sheet in cases)),
        )
        for (piece, side, wanted), cases in found.items()
    )


def rounded_sizes(plan: Plan, graduation: Graduation) -> Mapping[PartId, Size]:
    """Every rectangle's size, by its id, where each cut is made at the nearest mark."""
    sizes = {sheet.whole: sheet.size for sheet in plan.sheets}
    for cut in plan.cuts:
        mark = nearest_mark(cut.mark, graduation).mark
        for taken in cut.takes:
            first, rest = taken.halves
            sizes[first], sizes[rest] = sizes[taken].halves(cut.measure, mark)
    return sizes


def _sides(part: Part, actual: Size) -> Iterator[tuple[Direction, Length, Length]]:
    """Each side of a piece as it will stand on the card: wanted, and as it comes out."""
    across = Direction.HEIGHT if part.turned else Direction.WIDTH
    yield across, part.width, actual.width
    yield across.other, part.height, actual.height


def overhangs(project: Project, plan: Plan, graduation: Graduation) -> tuple[Overhang, ...]:
    """The pieces that stick out once rounded, the largest of each laid on the smallest below."""
    cut = _cut_sizes(plan, rounded_sizes(plan, graduation))
    smallest = {name: Size(min(widths), min(heights)) for name, (widths, heights) in cut.items()}
    largest = {name: Size(max(widths), max(heights)) for name, (widths, heights) in cut.items()}
    base = smallest.get(BASE)
    front = _front(project, base, graduation) if base else project.card.size
    return tuple(
        overhang
        for piece in project.pieces
        if piece.name in largest and not piece.is_apart
        for overhang in _over(project, piece, largest[piece.name], smallest.get(piece.on, front))
    )


def _cut_sizes(
    plan: Plan, sizes: Mapping[PartId, Size]
) -> dict[str, tuple[list[Length], list[Length]]]:
    """The widths and heights that come out, piece by piece."""
    found: dict[str, tuple[list[Length], list[Length]]] = defaultdict(lambda: ([], []))
    for sheet, part in ((s, part) for s in plan.sheets for part in s.parts if part.piece):
        label = sheet.part_id(part)
        size = sizes[label].turned if part.turned else sizes[label]
        widths, heights = found[part.piece or ""]
        widths.append(size.width)
        heights.append(size.height)
    return found


def _front(project: Project, base: Size, graduation: Graduation) -> Size:
    """The smaller face of a base once folded at the nearest mark."""
    card = project.card
    if card.fold == "none":
        return base
    if card.fold == "top":
        mark = nearest_mark(card.size.height, graduation).mark
        return Size(base.width, min(mark, base.height - mark))
    mark = nearest_mark(card.size.width, graduation).mark
    return Size(min(mark, base.width - mark), base.height)


def _over(project: Project, piece: Piece, largest: Size, bearer: Size) -> Iterable[Overhang]:
    below = {other.name: other.size for other in project.pieces}.get(piece.on, project.card.size)
    at_x = piece.place.x if isinstance(piece.place.x, Length) else ZERO
    at_y = piece.place.y if isinstance(piece.place.y, Length) else ZERO
    if at_x + piece.size.width <= below.width and at_x + largest.width > bearer.width:
        yield Overhang(piece.name, piece.on, Direction.WIDTH, at_x + largest.width - bearer.width)
    if at_y + piece.size.height <= below.height and at_y + largest.height > bearer.height:
        yield Overhang(
            piece.name, piece.on, Direction.HEIGHT, at_y + largest.height - bearer.height
        )
