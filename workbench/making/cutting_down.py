"""Cutting what lies on the table down: pieces to a smaller size, parts to where no strip is."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from workbench.craft.card import BASE
from workbench.craft.direction import Direction
from workbench.craft.errors import CraftError
from workbench.craft.fitting import changed
from workbench.craft.paper import PaperKind, Size
from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import WorkState
from workbench.measure.length import ZERO, Length
from workbench.planning import Cut, Own, PartId, Round, Step


def trimmed_alike(work: WorkState, trimmer: Trimmer) -> WorkState | None:
    """All pieces of the layer that came out short cut down to the short one's size."""
    off = work.off()
    short = {(work.pieces[label], work.rectangles[label].size) for label in off}
    if len(short) != 1 or work.missing():
        return None
    (((name, turned), size),) = short
    side = _short_side(size, work.wanted(off[0]))
    mine = [label for label, (piece, _) in work.pieces.items() if piece == name]
    rounded = {label for step in work.past if _is_shaped(work, step) for label in step.takes}
    if name == BASE or side is None or not (rounded | work.used).isdisjoint(mine):
        return None
    try:
        piece = replace(work.project.piece(name), size=size.turned if turned else size)
        smaller = replace(work, project=changed(work.project, piece))
    except CraftError:
        return None
    trim = _Trim(side, size.along(side), turned)
    return _cut_down(smaller, [label for label in mine if label not in off], trim, trimmer)


def trimmed_to_size(work: WorkState, trimmer: Trimmer) -> tuple[WorkState, Length] | None:
    """The pieces that came out too large along one side trimmed there, and by how much.

    None where there is none, or where they are too large by different lengths.
    """
    large = {label: _surplus(work, label) for label in work.off()}
    trims = {label: found for label, found in large.items() if found}
    surpluses = {work.rectangles[label].size.along(m) - mark for label, (m, mark) in trims.items()}
    if len(surpluses) != 1 or not work.used.isdisjoint(trims):
        return None
    pieces, alike = (
        dict(work.pieces),
        dict[tuple[PaperKind, Size, Direction, Length], list[PartId]](),
    )
    for label, (measure, mark) in trims.items():
        kind = work.project.paper(work.papers[label]).kind
        alike.setdefault((kind, work.rectangles[label].size, measure, mark), []).append(label)
        pieces[label.halves[0]] = pieces.pop(label)
    cuts = tuple(
        cut
        for (kind, _, measure, mark), labels in alike.items()
        for cut in _stacked(labels, measure, mark, trimmer.at_once[kind])
    )
    trimmed = replace(work, cuts=(*work.cuts, *cuts), pieces=pieces).settled()
    return trimmed, surpluses.pop()


def _surplus(work: WorkState, label: PartId) -> tuple[Direction, Length] | None:
    """The side of a piece that is too long, and the mark to trim it at; None unless just one is."""
    size, wanted = work.rectangles[label].size, work.wanted(label)
    if size.height == wanted.height and size.width > wanted.width:
        return Direction.WIDTH, wanted.width
    if size.width == wanted.width and size.height > wanted.height:
        return Direction.HEIGHT, wanted.height
    return None


def strips_off(work: WorkState, trimmer: Trimmer) -> WorkState:
    """The work with cuts that take printed strips off what is left, so that the rest serves."""
    alike: dict[tuple[PaperKind, Size, Direction, Length], list[PartId]] = {}
    for label in work.finals:
        size, strip = work.rectangles[label].size, work.strip_on(label)
        if strip is None or label in work.ruined or label in work.pieces:
            continue
        measure, mark = strip
        if ZERO < mark < size.along(measure) and min(size.width, size.height) >= trimmer.hold * 2:
            kind = work.project.paper(work.papers[label]).kind
            alike.setdefault((kind, size, measure, mark), []).append(label)
    cuts = tuple(
        step
        for (kind, _, measure, mark), labels in alike.items()
        for step in _stacked(labels, measure, mark, trimmer.at_once[kind])
    )
    return replace(work, cuts=(*work.cuts, *cuts))


def _stacked(
    labels: Sequence[PartId], measure: Direction, mark: Length, most: int
) -> Iterator[Cut]:
    """The same cut of all of them, at `most` so many at once."""
    for first in range(0, len(labels), most):
        yield Cut(0, tuple(labels[first : first + most]), measure, mark)


class _Trim(NamedTuple):
    """Across a piece that lies `turned` or not; one that lies otherwise is cut across the other."""

    measure: Direction
    mark: Length
    turned: bool

    def across(self, turned: bool) -> Direction:
        return self.measure if turned == self.turned else self.measure.other


def _short_side(size: Size, wanted: Size) -> Direction | None:
    """The side that falls short of what is wanted, where the other is as it should be."""
    if size.height == wanted.height and size.width < wanted.width:
        return Direction.WIDTH
    if size.width == wanted.width and size.height < wanted.height:
        return Direction.HEIGHT
    return None


def _cut_down(
    work: WorkState, labels: Sequence[PartId], trim: _Trim, trimmer: Trimmer
) -> WorkState:
    pieces, steps = dict(work.pieces), list[Cut]()
    piles: dict[tuple[PaperKind, bool], list[PartId]] = {}
    for label in labels:
        kind = work.project.paper(work.papers[label]).kind
        piles.setdefault((kind, pieces[label][1]), []).append(label)
    for (kind, turned), pile in piles.items():
        steps += _stacked(pile, trim.across(turned), trim.mark, trimmer.at_once[kind])
        for label in pile:
            pieces[label.halves[0]] = pieces.pop(label)
    return replace(work, cuts=(*work.cuts, *steps), pieces=pieces).settled()


def _is_shaped(work: WorkState, step: Step) -> bool:
    """Whether corners or holes were made, which lie by the edges that a piece has."""
    if isinstance(step, Own):
        return bool(work.project.own_step(step.name).holes)
    return isinstance(step, Round)
