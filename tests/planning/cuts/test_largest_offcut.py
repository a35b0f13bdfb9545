"""The largest offcut of small sheets, worked out by hand."""

from tests.planning.parts import WATCH, search_of, subproblem
from workbench.planning.cuts.largest_offcut import largest_free_offcut, largest_offcut
from workbench.planning.instance.instance import Instance
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import leaves
from workbench.planning.sheets.search import Layouts


def left(layouts: Layouts) -> set[tuple[int, int]]:
    return {leaf.shape for layout in layouts for leaf in leaves(layout.root) if leaf.item is None}


def test_pieces_of_one_row_leave_the_rest_of_the_sheet() -> None:
    """Three pieces 100 x 150 on a sheet 300 x 300 mm lie in one row: 300 x 150 is left."""
    group = subproblem((300, 300), {(100, 150): 3})
    search = search_of(group)
    cutting = search.fewest()
    instance = Instance(1, UNLIMITED, (group,))
    for keep in (largest_offcut, largest_free_offcut):
        (kept,) = keep(instance, [search], [cutting], WATCH)
        assert kept.sheets == 1
        assert (300, 150) in left(kept.layouts)
        cut = [leaf.item for layout in kept.layouts for leaf in leaves(layout.root)]
        assert sorted(item for item in cut if item is not None) == [0, 0, 0]
