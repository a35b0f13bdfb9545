"""Cutting what lies on the table down: pieces to a smaller size, parts to where no strip is."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from workbench.craft.card import BASE
from workbench.craft.direction import Direction
from workbench.craft.errors import CraftError
from workbench.craft.fitting import changed
from workbench.craft.paper import PaperKind, Size
from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import WorkState
from workbench.measure.length import ZERO, Length
from workbench.planning import Cut, Own, PartId, Round, Step

_Trim = tuple[Direction, Length]
"""The side to measure, and the mark."""


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
    trims = {
        label: (side if work.pieces[label][1] == turned else side.other, size.along(side))
        for label in mine
        if label not in off
    }
    return _trimmed(smaller, trims, trimmer)


def trimmed_to_size(work: WorkState, trimmer: Trimmer) -> tuple[WorkState, Length] | None:
    """The pieces that came out too large along one side trimmed there, and by how much.

    None where there is none, or where they are too large by different lengths.
    """
    large = {label: _surplus(work, label) for label in work.off()}
    trims = {label: found for label, found in large.items() if found}
    surpluses = {work.rectangles[label].size.along(m) - mark for label, (m, mark) in trims.items()}
    if len(surpluses) != 1 or not work.used.isdisjoint(trims):
        return None
    return _trimmed(work, trims, trimmer), surpluses.pop()


def _surplus(work: WorkState, label: PartId) -> _Trim | None:
    """The side of a piece that is too long, and the mark to trim it at; None unless just one is."""
    size, wanted = work.rectangles[label].size, work.wanted(label)
    if size.height == wanted.height and size.width > wanted.width:
        return Direction.WIDTH, wanted.width
    if size.width == wanted.width and size.height > wanted.height:
        return Direction.HEIGHT, wanted.height
    return None


def strips_off(work: WorkState, trimmer: Trimmer) -> WorkState:
    """The work with cuts that take printed strips off what is left, so that the rest serves."""
    trims: dict[PartId, _Trim] = {}
    for label in work.finals:
        size, strip = work.rectangles[label].size, work.strip_on(label)
        if strip is None or label in work.ruined or label in work.pieces:
            continue
        measure, mark = strip
        if ZERO < mark < size.along(measure) and min(size.width, size.height) >= trimmer.hold * 2:
            trims[label] = strip
    return replace(work, cuts=(*work.cuts, *_stacked(work, trims, trimmer)))


def _trimmed(work: WorkState, trims: Mapping[PartId, _Trim], trimmer: Trimmer) -> WorkState:
    """The work with these pieces trimmed; each is the part that its mark measures."""
    pieces = dict(work.pieces)
    for label in trims:
        pieces[label.halves[0]] = pieces.pop(label)
    cuts = (*work.cuts, *_stacked(work, trims, trimmer))
    return replace(work, cuts=cuts, pieces=pieces).settled()


def _stacked(work: WorkState, trims: Mapping[PartId, _Trim], trimmer: Trimmer) -> Iterator[Cut]:
    """The cuts at these marks, like parts of a kind at once, as many as the trimmer cuts."""
    alike: dict[tuple[PaperKind, Size, _Trim], list[PartId]] = {}
    for label, trim in trims.items():
        kind = work.project.paper(work.papers[label]).kind
        alike.setdefault((kind, work.rectangles[label].size, trim), []).append(label)
    for (kind, _, trim), labels in alike.items():
        most = trimmer.at_once[kind]
        for first in range(0, len(labels), most):
            yield Cut(0, tuple(labels[first : first + most]), *trim)


def _short_side(size: Size, wanted: Size) -> Direction | None:
    """The side that falls short of what is wanted, where the other is as it should be."""
    if size.height == wanted.height and size.width < wanted.width:
        return Direction.WIDTH
    if size.width == wanted.width and size.height < wanted.height:
        return Direction.HEIGHT
    return None


def _is_shaped(work: WorkState, step: Step) -> bool:
    """Whether corners or holes were made, which lie by the edges that a piece has."""
    if isinstance(step, Own):
        return bool(work.project.own_step(step.name).holes)
    return isinstance(step, Round)
