"""What nobody could cut is refused in words; whatever takes long can be stopped at any time."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.projects import patterned, project, size
from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.bound.column_generation import linear_bound
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.driver import make_plan
from workbench.planning.instance.instance import instance_of
from workbench.planning.layouts.tree import leaves
from workbench.planning.limits import Limits
from workbench.planning.progress import UNWATCHED, Cancelled, PlanningError, Watch

ENOUGH = 100_000


def asking(pieces: list[Piece], cards: int = 9) -> Project:
    sheet = size(300, 300, "mm")
    return project("mm", cards, [patterned("print", sheet, ENOUGH)], pieces)


def after(times: int) -> Callable[[], bool]:
    asked = 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return asked > times

    return stop


@pytest.mark.parametrize("side", [Fraction(1, 10), Fraction(254, 9_999_830)])
def test_a_piece_narrower_than_any_blade_cuts_is_refused(side: Fraction) -> None:
    with pytest.raises(PlanningError, match='"sliver" is less than 1 mm wide or high'):
        make_plan(asking([Piece("sliver", size(side, 20, "mm"), ("print",))]))


def test_more_pieces_than_can_be_written_out_are_refused() -> None:
    with pytest.raises(PlanningError, match="100000 cards take 5100000 pieces"):
        make_plan(asking([Piece("dot", size(9, 9, "mm"), ("print",), per_card=50)], 100_000))


def test_a_sheet_that_no_table_holds_is_refused_at_once() -> None:
    pieces = [Piece("dot", size(9, 9, "mm"), ("print",))]
    asked = project("mm", 900, [patterned("print", size(99_999, 300, "mm"), 900)], pieces)
    with pytest.raises(PlanningError, match="is 99999 mm long, and no sheet over 3048 mm"):
        make_plan(asked)
    roll = Trimmer(rule_length=Length.of(99_999, "mm"))
    assert instance_of(asked, roll).groups


@pytest.mark.parametrize("times", [20, 300, 2_000])
def test_sixty_odd_pieces_can_be_stopped_at_any_time(times: int) -> None:
    pieces = [
        Piece(f"piece {n}", size(20 + n, 30 + 7 * n % 41, "mm"), ("print",)) for n in range(60)
    ]
    with pytest.raises(Cancelled):
        make_plan(asking(pieces), watch=Watch(stop=after(times)))


def test_the_bound_holds_where_sheets_abound_and_places_are_left_out() -> None:
    """Never above the bound over all places, and not far below it."""
    pieces = [Piece(f"piece {n}", size(53 + 9 * n, 97 - 5 * n, "mm"), ("print",)) for n in range(7)]
    groups = instance_of(asking(pieces, 50), Trimmer()).groups
    (group,) = (group for group in groups if len(group.items) == len(pieces))
    every_place = linear_bound(group, UNWATCHED)
    some = linear_bound(group, Watch(limits=Limits(raster_points=60, raster_steps=0)))
    assert all(pricer.exact for pricer in every_place.pricers)
    assert not all(pricer.exact for pricer in some.pricers)
    assert some.sheets is not None
    assert every_place.sheets is not None
    assert 0.8 * every_place.sheets <= some.sheets <= every_place.sheets


SHAPES = st.lists(
    st.tuples(st.integers(8, 40), st.integers(8, 40)), min_size=1, max_size=5, unique=True
)


@settings(max_examples=examples(20), deadline=None)
@given(st.integers(40, 90), st.integers(40, 90), SHAPES)
def test_where_places_are_left_out_the_best_lies_between_what_is_found_and_its_ceiling(
    width: int, height: int, shapes: list[tuple[int, int]]
) -> None:
    prizes = [ValuedRectangle(n, w, h, 7 * w * h + n) for n, (w, h) in enumerate(shapes)]
    best = Raster(width, height, shapes).values(prizes)[-1, -1]
    some = Raster(width, height, shapes, limits=Limits(raster_points=8))
    table = some.values(prizes)
    assert table[-1, -1] <= best <= some.ceiling(prizes, UNWATCHED)
    cut = [leaf.item for leaf in leaves(some.layout(table, prizes)) if leaf.item is not None]
    assert sum(prizes[item].value for item in cut) == table[-1, -1]
