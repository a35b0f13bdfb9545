"""Where final parts lie, and what of them is kept."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.measure.length import Length
from workbench.planning.layouts.node_table import NodeTable
from workbench.planning.layouts.positions import PartPositions, kept_shapes, worth_keeping
from workbench.planning.layouts.tree import Chain, Leaf
from workbench.planning.shape import HEIGHT, WIDTH


def mm(number: int) -> Length:
    return Length(Fraction(number))


def test_parts_tile_the_sheet_and_say_what_they_are() -> None:
    row = Chain(120, 40, WIDTH, ((100, Leaf(100, 40, 7, turned=True)),), Leaf(20, 40))
    table = NodeTable()
    sheet = table.number(Chain(120, 140, HEIGHT, ((40, row),), Leaf(120, 100)))
    parts = PartPositions(table, [40, 100], mm, {7: "band"}).parts(sheet)
    assert [(part.role, part.piece, part.x, part.y, part.turned) for part in parts] == [
        ("piece", "band", mm(0), mm(0), True),
        ("scrap", None, mm(100), mm(0), False),
        ("offcut", None, mm(0), mm(40), False),
    ]
    assert sum(part.width.mm * part.height.mm for part in parts) == 120 * 140


@pytest.mark.parametrize(
    ("width", "height", "kept"), [(1, 6, True), (Fraction(9, 10), 12, False), (2, 2, False)]
)
def test_an_inch_wide_and_six_square_inches_are_worth_keeping(
    width: Fraction, height: Fraction, kept: bool
) -> None:
    """Common practice, no source."""
    assert worth_keeping(Length.of(width, "in"), Length.of(height, "in")) == kept


@given(st.sampled_from([1, 5, 40, 320]), st.integers(1, 30_000), st.integers(1, 30_000))
def test_shapes_are_kept_as_lengths_are(scale: int, width: int, height: int) -> None:
    sides = (Length(Fraction(side, scale)) for side in (width, height))
    assert kept_shapes(scale)((width, height)) == worth_keeping(*sides)
