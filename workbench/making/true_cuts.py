"""The cuts that are left after a slip, made so that each measures something wanted."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from workbench.craft.trimmer import Trimmer
from workbench.making.work_state import WorkState, not_cut
from workbench.measure.length import ZERO
from workbench.planning import Cut, Edge, PartId, Remnant, true_cuts


def cut_truly(work: WorkState, trimmer: Trimmer) -> WorkState:
    """The same pieces out of the same parts, no cut measuring what is not wanted any more.

    Parts that are cut so already keep their cuts and their order; the others are cut after them.
    """
    pending = {label: cut for cut in work.cuts for label in cut.takes}
    remnants = {
        label: (
            work.papers[label],
            replace(_remnant(work, pending, label), edge=_edge(work, label)),
        )
        for label in _to_be_cut(work, pending)
    }
    found = true_cuts(work.project, trimmer, remnants)
    if not found.sheets:
        return work
    lies = {sheet.id: label for label, sheet in found.sheets.items()}
    anew = set(_below(pending, found.sheets))
    cuts = [
        replace(cut, takes=tuple(lies[part.sheet].below(part.path) for part in cut.takes))
        for cut in found.cuts
    ]
    pieces = {label: piece for label, piece in work.pieces.items() if label not in anew}
    for label, sheet in found.sheets.items():
        for part in sheet.parts:
            if part.piece:
                pieces[label.below(part.path)] = part.piece, part.turned
    return replace(work, cuts=(*not_cut(work.cuts, anew), *cuts), pieces=pieces).settled()


def _to_be_cut(work: WorkState, pending: Mapping[PartId, Cut]) -> Iterator[PartId]:
    """The parts there are that are cut on, each without the printed strip that comes off first."""
    for label in pending:
        part = label if label in work.in_hand else None
        while part and part in pending:
            bare = [half for half in part.halves if not _all_strip(work, half)]
            if len(bare) == 2:
                yield part
            part = bare[0] if len(bare) == 1 else None


def _all_strip(work: WorkState, label: PartId) -> bool:
    """Whether all of a part is printed strip."""
    strip = work.strip_on(label)
    if strip is None:
        return False
    measure, mark = strip
    return not ZERO < mark < work.rectangles[label].size.along(measure)


def _edge(work: WorkState, label: PartId) -> Edge | None:
    """What a slip has left of its strip on a part; its pieces lie clear of that."""
    strip, found = work.project.paper(work.papers[label]).strip, work.strip_on(label)
    return Edge(*found, first=strip.lies_first) if strip and found else None


def _remnant(work: WorkState, pending: Mapping[PartId, Cut], label: PartId) -> Remnant:
    size = work.rectangles[label].size
    if label not in pending:
        piece, turned = work.pieces.get(label, (None, False))
        return Remnant(size, piece, turned)
    cut = pending[label]
    first, rest = (_remnant(work, pending, half) for half in label.halves)
    return Remnant(size, measure=cut.measure, mark=cut.mark, halves=(first, rest))


def _below(pending: Mapping[PartId, Cut], parts: Iterable[PartId]) -> Iterator[PartId]:
    """The parts themselves and all that is to be cut of them."""
    for part in parts:
        yield part
        if part in pending:
            yield from _below(pending, part.halves)
