"""Parts still to be cut, cut truly once some of their pieces are not wanted any more.

Each cut measures something wanted (`layouts/truth`). Where pieces are lost, dropped or of another
size by now, the cuts that were planned may bear nothing, or more than what is left to bear.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.cuts.cut_steps import CutSteps, PileCuts
from workbench.planning.instance.instance import Instance, Item, Source, Subproblem
from workbench.planning.instance.trimmer_limits import TrimmerLimits, trimmer_limits
from workbench.planning.layouts.tree import Chain, Layout, Leaf, Node
from workbench.planning.layouts.trimmer import measured
from workbench.planning.layouts.truth import is_true, true_layout
from workbench.planning.result import Cut, PartId, Sheet
from workbench.planning.shape import split


class Edge(NamedTuple):
    """A spoilt edge, which comes off first along `measure` at `mark`.

    It is the `first` part of that cut, or else the rest.
    """

    measure: Direction
    mark: Length
    first: bool


@dataclass(frozen=True, slots=True)
class Remnant:
    """A part of the `size` it has, and how it is to be cut on: along `measure` at `mark`.

    It is not cut on where `halves` is None. Then it is a `piece`, by its name, or left over;
    `turned` tells how a piece lies. A spoilt `edge`, of a part to be cut only, bears no piece.
    """

    size: Size
    piece: str | None = None
    turned: bool = False
    measure: Direction = Direction.WIDTH
    mark: Length | None = None
    halves: "tuple[Remnant, Remnant] | None" = None
    edge: Edge | None = None


class TrueCuts(NamedTuple):
    """Parts that are cut in another way, each as a sheet of its own, and the cuts in their order.

    The cuts take parts of these sheets.
    """

    sheets: Mapping[PartId, Sheet]
    cuts: tuple[Cut, ...]


def true_cuts(
    project: Project, trimmer: Trimmer, remnants: Mapping[PartId, tuple[str, Remnant]]
) -> TrueCuts:
    """Cut the same pieces out of the same parts, wherever a cut measures nothing wanted.

    Args:
        project: whose pieces and papers these are.
        trimmer: what cuts them. A part that it cannot cut truly is left as it is.
        remnants: parts still to be cut, each with its paper.

    Returns:
        The parts that are cut in another way now; nothing of those that are cut truly already.
    """
    scale = math.lcm(*(n for _, each in remnants.values() for n in _denominators(each)))
    limits = trimmer_limits(trimmer, scale)
    ids: dict[str, int] = {}
    changed = {
        part: _made_true(_node(each, scale, ids), each.edge, scale, limits)
        for part, (_, each) in remnants.items()
    }
    layouts = [
        Layout(remnants[part][0], Source(*root.shape, 1, offcut=False, cost=0), root)
        for part, root in changed.items()
        if root is not None
    ]
    kinds = {paper.name: paper.kind for paper in project.papers}
    cuts = PileCuts(layouts, kinds, trimmer.at_once, limits.hold)
    work = CutSteps(_instance(ids, scale, limits), cuts)
    parts = [part for part, root in changed.items() if root is not None]
    return TrueCuts(dict(zip(parts, work.sheets, strict=True)), tuple(work.steps))


def _made_true(root: Node, edge: Edge | None, scale: int, limits: TrimmerLimits) -> Node | None:
    """The root cut truly, its spoilt edge off first; None where it is already, or cannot be."""
    if is_true(root, limits):
        return None
    if edge is None:
        made = true_layout(root, limits)
        return None if made is root else measured(made, limits)
    mark = _units(edge.mark, scale)
    halves = split(root.shape, edge.measure, mark)
    spoilt, sound = halves if edge.first else halves[::-1]
    clear = replace(root, width=sound[0], height=sound[1])
    made = true_layout(clear, limits)
    if made is clear:
        return None
    waste, kept = Leaf(*spoilt, strip=True), measured(made, limits)
    first, rest = (waste, kept) if edge.first else (kept, waste)
    return Chain(*root.shape, edge.measure, ((mark, first),), rest)


def _instance(ids: Mapping[str, int], scale: int, limits: TrimmerLimits) -> Instance:
    """An instance of nothing but the names of the pieces and the length of a unit."""
    items = tuple(
        Item(number, name, 1, 1, 0, 0, (), needed=False, dealt=False)
        for name, number in ids.items()
    )
    return Instance(scale, limits, (Subproblem(items, (), 0, limits),))


def _denominators(remnant: Remnant) -> Iterator[int]:
    yield remnant.size.width.mm.denominator
    yield remnant.size.height.mm.denominator
    if remnant.edge:
        yield remnant.edge.mark.mm.denominator
    for half in remnant.halves or ():
        yield from _denominators(half)


def _node(remnant: Remnant, scale: int, ids: dict[str, int]) -> Node:
    width, height = _units(remnant.size.width, scale), _units(remnant.size.height, scale)
    if remnant.halves is None or remnant.mark is None:
        name = remnant.piece
        item = None if name is None else ids.setdefault(name, len(ids))
        return Leaf(width, height, item, remnant.turned)
    first, rest = (_node(half, scale, ids) for half in remnant.halves)
    return Chain(width, height, remnant.measure, ((_units(remnant.mark, scale), first),), rest)


def _units(length: Length, scale: int) -> int:
    return int(length.mm * scale)
