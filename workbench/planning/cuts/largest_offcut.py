"""The largest offcut to keep: one more item, asked for in one size after another.

Candidates are the rectangles that sums of sizes leave of a whole sheet. A bound (column
generation, or the relaxed arc-flow model) rules sizes out; bisection finds the largest that is
left in doubt, and the search for sheets tries to cut it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.planning.bound.column_generation import linear_bound
from workbench.planning.instance.instance import Instance, Item, Source, Subproblem, Supply
from workbench.planning.layouts.positions import worth_keeping
from workbench.planning.layouts.tree import Chain, Leaf, Node, leaves
from workbench.planning.progress import Watch
from workbench.planning.sheets.cut_graph import TooLargeError
from workbench.planning.sheets.search import Allowance, Cutting, Layouts, SheetSearch

_KEPT = -1
"""The id of the offcut among the items: no piece has it."""


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A rectangle to be left over in one group, of one of `papers`."""

    group: int
    width: int
    height: int
    papers: tuple[str, ...]

    @property
    def area(self) -> int:
        return self.width * self.height

    def holds(self, other: "_Wanted") -> bool:
        same = (self.group, self.papers) == (other.group, other.papers)
        return same and other.width <= self.width and other.height <= self.height

    @property
    def item(self) -> Item:
        return Item(_KEPT, "", self.width, self.height, 1, 1, self.papers, needed=True, dealt=False)


def largest_offcut(
    instance: Instance, searches: Sequence[SheetSearch], cuttings: Sequence[Cutting], watch: Watch
) -> list[Cutting]:
    """The cuttings again, in as many sheets, with the largest offcut found that can be kept.

    What the linear bound does not rule out is cut: the largest of it first, then the middle of
    what is still in doubt. Raises Cancelled.
    """

    def ruled_out(wanted: _Wanted) -> bool:
        fewest = linear_bound(_with(searches[wanted.group].group, wanted), watch).sheets
        return fewest is None or fewest > cuttings[wanted.group].sheets

    def cut(wanted: _Wanted) -> Layouts | None:
        return _keeping(wanted, searches[wanted.group], cuttings[wanted.group].sheets)

    watch.stage("looking for the largest offcut to keep")
    in_doubt = _larger(instance, searches, cuttings)
    return _hunted(
        in_doubt, cuttings, ruled_out, cut, (watch.limits.offcut_looks, watch.limits.offcut_cuts)
    )


def largest_free_offcut(
    instance: Instance, searches: Sequence[SheetSearch], cuttings: Sequence[Cutting], watch: Watch
) -> list[Cutting]:
    """The cuttings again, at the same marks and in as few strokes, with the largest offcut found.

    Left as they are where that would take long. Raises Cancelled.
    """
    marks = frozenset[int]().union(*(cutting.marks for cutting in cuttings))

    def ruled_out(wanted: _Wanted) -> bool:
        search = _asking(searches[wanted.group], wanted)
        try:
            asked = search.asked(
                Allowance(sheets(wanted), marks, watch.limits.rows), watch.limits.offcut_columns
            )
        except TooLargeError:
            return True
        return asked.program.solve_relaxation(watch).verdict == "infeasible"

    def cut(wanted: _Wanted) -> Layouts | None:
        search = searches[wanted.group]
        layouts = _asking(search, wanted).layouts(sheets(wanted), marks)
        had = search.strokes(cuttings[wanted.group].layouts)
        return _left(layouts) if layouts and search.strokes(layouts) <= had else None

    def sheets(wanted: _Wanted) -> int:
        return cuttings[wanted.group].sheets

    watch.stage("looking for the largest offcut to keep")
    in_doubt = _larger(instance, searches, cuttings)
    return _hunted(
        in_doubt,
        cuttings,
        ruled_out,
        cut,
        (watch.limits.free_offcut_looks, watch.limits.free_offcut_cuts),
    )


def _hunted(
    in_doubt: list[_Wanted],
    cuttings: Sequence[Cutting],
    ruled_out: Callable[[_Wanted], bool],
    cut: Callable[[_Wanted], Layouts | None],
    tries: tuple[int, int],
) -> list[Cutting]:
    """The cuttings with the largest that could be `cut`.

    `tries` are how many sizes are looked at, and how many are cut, at most.
    """
    looks, cuts = tries
    best = list(cuttings)
    in_doubt = _not_ruled_out(in_doubt, ruled_out, looks)
    for trial in range(cuts):
        if not in_doubt:
            break
        tried = in_doubt[len(in_doubt) // 2 if trial else -1]
        layouts = cut(tried)
        if layouts:
            best = list(cuttings)
            best[tried.group] = replace(cuttings[tried.group], layouts=layouts)
        in_doubt = _halved(in_doubt, tried, possible=layouts is not None)
    return best


def _larger(
    instance: Instance, searches: Sequence[SheetSearch], cuttings: Sequence[Cutting]
) -> list[_Wanted]:
    """Every offcut that might be kept and is larger than all of today's, by area."""
    least = max(_largest(instance, cutting.layouts) for cutting in cuttings)
    found = {
        wanted
        for number, search in enumerate(searches)
        for wanted in _candidates(instance, number, search.group, least)
    }
    return sorted(found, key=lambda one: (one.area, one.group, one.width, one.papers))


def _not_ruled_out(
    in_doubt: list[_Wanted], ruled_out: Callable[[_Wanted], bool], looks: int
) -> list[_Wanted]:
    """Those up to the largest that is not ruled out, found by halving."""
    left, largest = in_doubt, 0
    for _ in range(looks):
        if not left:
            break
        tried = left[len(left) // 2]
        possible = not ruled_out(tried)
        if possible:
            largest = tried.area
        else:
            in_doubt = _halved(in_doubt, tried, possible=False)
        left = _halved(left, tried, possible=possible)
    return [one for one in in_doubt if one.area <= largest]


def _halved(in_doubt: list[_Wanted], tried: _Wanted, *, possible: bool) -> list[_Wanted]:
    """What can be kept leaves nothing smaller in doubt; what cannot, nothing larger both ways."""
    if possible:
        return [one for one in in_doubt if one.area > tried.area]
    return [one for one in in_doubt if not one.holds(tried)]


def _largest(instance: Instance, layouts: Layouts) -> int:
    return max(
        (
            leaf.width * leaf.height
            for layout in layouts
            for leaf in leaves(layout.root)
            if leaf.item is None and worth_keeping(*map(instance.length, (leaf.width, leaf.height)))
        ),
        default=0,
    )


def _candidates(
    instance: Instance, number: int, group: Subproblem, least: int
) -> Iterator[_Wanted]:
    """What of more than `least` area whole sheets can leave: across them, or beside pieces."""
    for supply in group.supplies:
        sheet = supply.sheet
        alike = [other for other in group.supplies if _same_sheets(supply, other)]
        pieces = [group.items[index] for index in group.eligible(supply)]
        sides = {(item.width, item.height) for item in pieces}
        if supply.turns:
            sides |= {(height, width) for width, height in sides}
        heights = _left_over(sheet.height, {up for _, up in sides})
        for width in _left_over(sheet.width, {across for across, _ in sides}):
            for height in heights:
                if width * height <= least:
                    continue
                kept = worth_keeping(instance.length(width), instance.length(height))
                whole = (width, height) == (sheet.width, sheet.height)
                if kept and not whole and not any(_drawer_holds(s, width, height) for s in alike):
                    papers = tuple(supply.paper for supply in alike)
                    yield _Wanted(number, width, height, papers)


def _same_sheets(one: Supply, other: Supply) -> bool:
    shapes = [(supply.sheet.width, supply.sheet.height, supply.turns) for supply in (one, other)]
    return shapes[0] == shapes[1]


def _drawer_holds(supply: Supply, width: int, height: int) -> bool:
    """Whether an offcut on hand is as large: then it would be cut up to leave what it is."""

    def holds(source: Source) -> bool:
        upright = width <= source.width and height <= source.height
        return upright or (height <= source.width and width <= source.height)

    return any(holds(source) for source in supply.sources if source.offcut)


def _left_over(whole: int, sizes: set[int]) -> set[int]:
    """What sums of sizes leave of a length; and the sizes, which are rows to lie in."""
    sums = {0}
    for size in sorted(sizes):
        for start in sorted(sums):
            sums.update(range(start + size, whole, size))
    return {whole - total for total in sums} | {size for size in sizes if size < whole}


def _keeping(wanted: _Wanted, search: SheetSearch, sheets: int) -> Layouts | None:
    """Layouts within `sheets` that leave what is wanted, if they can at the pieces' own marks."""
    own = {side for item in search.group.items for side in (item.width, item.height)}
    with_it = _asking(search, wanted)
    layouts = with_it.layouts(sheets, own) or with_it.layouts(sheets)
    return _left(layouts) if layouts else None


def _asking(search: SheetSearch, wanted: _Wanted) -> SheetSearch:
    return replace(search, group=_with(search.group, wanted))


def _with(group: Subproblem, wanted: _Wanted) -> Subproblem:
    return replace(group, items=(*group.items, wanted.item))


def _left(layouts: Layouts) -> Layouts:
    """The layouts with what was to be kept left over."""
    return tuple(replace(layout, root=_without_item(layout.root)) for layout in layouts)


def _without_item(root: Node) -> Node:
    if isinstance(root, Leaf):
        return Leaf(root.width, root.height) if root.item == _KEPT else root
    cuts = tuple((mark, _without_item(first)) for mark, first in root.cuts)
    return Chain(root.width, root.height, root.direction, cuts, _without_item(root.rest))
