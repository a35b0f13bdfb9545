"""The best sheet with many places, against the same programme over every place of a small one."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.parts import best_sheet
from workbench.planning.bound.bounded_dp import BoundedRaster, LineBounds, TooManyStatesError
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.instance.trimmer_limits import UNLIMITED, TrimmerLimits
from workbench.planning.layouts.tree import Leaf, Node
from workbench.planning.limits import Limits
from workbench.planning.progress import UNWATCHED, Cancelled, Watch
from workbench.planning.shape import split

SHAPES = st.lists(
    st.tuples(st.integers(1, 18), st.integers(1, 18), st.integers(0, 60)), min_size=1, max_size=6
)
# No side of what it cuts is longer than twice its rule.
SHORT = st.integers(5, 20).flatmap(
    lambda rule: st.builds(TrimmerLimits, st.integers(5, 2 * rule), st.just(rule))
)


def prizes_of(shapes: list[tuple[int, int, int]]) -> list[ValuedRectangle]:
    return [ValuedRectangle(number, w, h, value) for number, (w, h, value) in enumerate(shapes)]


def worth(node: Node, prizes: list[ValuedRectangle]) -> float:
    """What a cutting gives, every cut followed and every piece measured."""
    if isinstance(node, Leaf):
        if node.item is None:
            return 0
        prize = prizes[node.item]
        assert (node.width, node.height) == (prize.width, prize.height)
        return prize.value
    total, left = 0.0, node.shape
    for mark, first in node.cuts:
        part, left = split(left, node.direction, mark)
        assert first.shape == part
        total += worth(first, prizes)
    assert node.rest.shape == left
    return total + worth(node.rest, prizes)


@settings(max_examples=examples(60), deadline=None)
@given(
    st.integers(1, 40),
    st.integers(1, 40),
    SHAPES,
    st.one_of(st.just(UNLIMITED), SHORT),
    st.integers(0, 80),
)
def test_the_best_above_any_floor_is_found(
    width: int,
    height: int,
    shapes: list[tuple[int, int, int]],
    trimmer: TrimmerLimits,
    below: int,
) -> None:
    prizes = prizes_of(shapes)
    sizes = [(prize.width, prize.height) for prize in prizes]
    best = int(Raster(width, height, sizes, trimmer).values(prizes)[-1, -1])
    raster = BoundedRaster(width, height, sizes, trimmer)
    assert raster.best_above(prizes, best, UNWATCHED) is None
    for floor in (-1, best - 1, best - 1 - below):
        found = raster.best_above(prizes, floor, UNWATCHED)
        assert found is not None
        assert found[0] == best == worth(found[1], prizes)
        assert raster.values_above(prizes, floor, UNWATCHED)[-1, -1] == best


@settings(max_examples=examples(40), deadline=None)
@given(st.integers(2, 30), st.integers(2, 30), SHAPES)
def test_no_sheet_is_worth_more_than_its_lines(
    width: int, height: int, shapes: list[tuple[int, int, int]]
) -> None:
    prizes = prizes_of(shapes)
    raster = Raster(width, height, [(prize.width, prize.height) for prize in prizes])
    assert raster.values(prizes)[-1, -1] <= LineBounds((width, height), prizes).ceiling


def many_places() -> list[ValuedRectangle]:
    """Thirty-two pieces of a sheet of 3000 by 3000: twenty-four that fill it, and others worth less
    than their area."""
    random = Random(17)
    parts = [(3000, 3000)]
    while len(parts) < 24:
        width, height = parts.pop(parts.index(max(parts)))
        cut = random.randint(300, 700) * max(width, height) // 1000
        if width >= height:
            parts += [(cut, height), (width - cut, height)]
        else:
            parts += [(width, cut), (width, height - cut)]
    others = [(random.randint(100, 900), random.randint(100, 900)) for _ in range(8)]
    shapes = [(w, h, w * h) for w, h in parts] + [(w, h, w * h * 9 // 10) for w, h in others]
    return prizes_of(shapes)


def test_a_sheet_of_millions_of_places_is_filled_without_waste() -> None:
    """By how the pieces were made, the best is the whole area, and nothing could be worth more."""
    prizes = many_places()
    sizes = [(prize.width, prize.height) for prize in prizes]
    assert not Raster(3000, 3000, sizes).exact
    value, root = best_sheet(3000, 3000, prizes, turning=False)
    assert value == worth(root, prizes) == 3000 * 3000
    raster = BoundedRaster(3000, 3000, sizes)
    found = raster.best_above(prizes, value - 1, UNWATCHED)
    assert found
    assert found[0] == value


def test_it_can_be_stopped_and_gives_up_by_its_limits() -> None:
    prizes = many_places()
    sizes = [(prize.width, prize.height) for prize in prizes]
    with pytest.raises(Cancelled):
        BoundedRaster(3000, 3000, sizes).best_above(prizes, -1, Watch(stop=lambda: True))
    with pytest.raises(TooManyStatesError):
        BoundedRaster(3000, 3000, sizes, limits=Limits(raster_cells=1_000_000))
    few = BoundedRaster(3000, 3000, sizes, limits=Limits(raster_steps=100_000))
    with pytest.raises(TooManyStatesError):
        few.best_above(prizes, -1, UNWATCHED)


def test_what_the_sheet_holds_no_piece_of_is_worth_nothing() -> None:
    assert BoundedRaster(9, 9, []).best_above(prizes_of([(10, 2, 5)]), 0, UNWATCHED) is None
