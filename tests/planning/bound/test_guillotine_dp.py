"""The most valuable sheet, against a plain programme over every whole-number cut."""

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.parts import best_sheet
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.progress import UNWATCHED

SHAPES = st.lists(
    st.tuples(st.integers(1, 14), st.integers(1, 14), st.integers(0, 60)), min_size=1, max_size=5
)


@settings(max_examples=examples(60), deadline=None)
@given(st.integers(1, 22), st.integers(1, 22), SHAPES, st.booleans())
def test_no_cut_is_missed(
    width: int, height: int, shapes: list[tuple[int, int, int]], turning: bool
) -> None:
    lying = shapes + [(h, w, value) for w, h, value in shapes if turning]

    @cache
    def best(across: int, up: int) -> int:
        values = [value for w, h, value in lying if w <= across and h <= up]
        values += [best(mark, up) + best(across - mark, up) for mark in range(1, across // 2 + 1)]
        values += [best(across, mark) + best(across, up - mark) for mark in range(1, up // 2 + 1)]
        return max(values, default=0)

    prizes = [ValuedRectangle(number, w, h, value) for number, (w, h, value) in enumerate(shapes)]
    assert best_sheet(width, height, prizes, turning=turning)[0] == best(width, height)


@settings(max_examples=examples(40), deadline=None)
@given(
    st.integers(1, 30),
    st.integers(1, 30),
    SHAPES,
    st.lists(st.tuples(st.integers(1, 30), st.integers(1, 30)), min_size=1, max_size=4),
)
def test_a_table_for_gaps_is_that_of_the_sheet_as_far_as_they_go(
    width: int,
    height: int,
    shapes: list[tuple[int, int, int]],
    sizes: list[tuple[int, int]],
) -> None:
    prizes = [ValuedRectangle(number, w, h, value) for number, (w, h, value) in enumerate(shapes)]
    raster = Raster(width, height, [(w, h) for w, h, _ in shapes])
    gaps = [(min(w, width), min(h, height)) for w, h in sizes]
    (whole,) = raster.tables([prizes], UNWATCHED)
    (some,) = raster.tables([prizes], UNWATCHED, gaps)
    for gap in gaps:
        asked = [x <= gap[0] for x in raster.xs], [y <= gap[1] for y in raster.ys]
        assert (whole[asked[0]][:, asked[1]] == some[asked[0]][:, asked[1]]).all()
