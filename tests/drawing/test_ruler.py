"""The rule around a mark: true to scale, the mark pointed at, numbers beside it."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.drawing.ruler import LOWEST_ROWS, ROWS, draw_rule
from workbench.measure.length import Length
from workbench.measure.writing import HALF_MM, ONE_MM, SIXTEENTHS, Graduation, nearest_mark

graduations = st.sampled_from([SIXTEENTHS, ONE_MM, HALF_MM, Graduation("in", Fraction(1, 64))])
lengths = st.fractions(0, 380, max_denominator=64).map(Length)
columns = st.integers(40, 160)


def inches(number: str) -> Length:
    return Length.of(number, "in")


def test_the_rule_around_three_and_an_eighth() -> None:
    # 3 1/8 lies halfway between 3 and 3 1/4 (common practice at the trimmer; US Army TM 9-243
    # chapter 3 shows the marks): with two columns to a sixteenth, four columns from each.
    assert draw_rule(inches("25/8"), SIXTEENTHS, 48).lines() == [
        "                        ▼",
        "┯━┯━┯━┯━┯━┯━┯━┯━┯━┯━┯━┯━┳─┬─┬─┬─┬─┬─┬─┬─┬─┬─┬─┬─",
        "│ ╵ │ ╵ │ ╵ │ ╵ │ ╵ │ ╵ ┃ ╵ │ ╵ │ ╵ │ ╵ │ ╵ │ ╵",
        "    │       ╵       │   ┃   ╵       │       ╵",
        "                    │   ┃",
        "                    3",
    ]


def test_a_rule_begins_at_nothing() -> None:
    drawn = draw_rule(inches("1/4"), SIXTEENTHS, 48).lines()
    assert drawn[-1].startswith("0 ")
    assert drawn[0].index("▼") == 8


def test_longer_lines_stand_at_rounder_numbers() -> None:
    drawn = draw_rule(inches("49/16"), SIXTEENTHS, 48)
    three = drawn.lines()[-1].index("3")

    def reach(sixteenths: int) -> int:
        """In half rows."""
        cells = [drawn.cell(three + 2 * sixteenths, row).char for row in range(ROWS - 1)]
        return sum({"┯": 1, "┬": 1, "│": 2, "╵": 1}.get(cell, 0) for cell in cells)

    assert reach(0) > reach(8) > reach(4) > reach(2) > reach(3)


def test_a_length_beside_its_mark_has_a_hollow_pointer() -> None:
    pointers = draw_rule(Length(Fraction(333, 10)), ONE_MM, 48).lines()[0]
    assert pointers.index("▽") == pointers.index("▼") + 1


@pytest.mark.parametrize("rows", range(LOWEST_ROWS, ROWS + 1))
def test_a_lower_rule_keeps_pointer_edge_lines_and_numbers(rows: int) -> None:
    drawn = draw_rule(inches("25/8"), SIXTEENTHS, 48, rows).lines()
    assert len(drawn) == rows
    assert "▼" in drawn[0] and "┳" in drawn[1] and "┃" in drawn[2] and "3" in drawn[-1]


@given(lengths, graduations, columns)
def test_the_pointer_stands_on_the_mark(length: Length, graduation: Graduation, wide: int) -> None:
    drawn = draw_rule(length, graduation, wide)
    pointer = [drawn.cell(x, 0).char for x in range(wide)].index("▼")
    assert drawn.cell(pointer, 1).char == "┳"
    assert sum(drawn.cell(x, 1).char == "┳" for x in range(wide)) == 1


@given(lengths, graduations, columns)
def test_there_is_always_a_number_in_sight(
    length: Length, graduation: Graduation, wide: int
) -> None:
    assert draw_rule(length, graduation, wide).lines()[-1].strip()


@given(lengths, columns)
def test_graduations_are_evenly_spaced(length: Length, wide: int) -> None:
    drawn = draw_rule(length, SIXTEENTHS, wide)
    stems = [x for x in range(wide) if drawn.cell(x, 1).char in "┯┳┬"]
    assert len({after - before for before, after in pairwise(stems)}) <= 1


@given(lengths, columns)
def test_the_edge_is_heavy_up_to_the_mark(length: Length, wide: int) -> None:
    drawn = draw_rule(length, SIXTEENTHS, wide)
    edge = "".join(drawn.cell(x, 1).char for x in range(wide))
    before, _, after = edge.partition("┳")
    assert set(before) <= set("━┯") and set(after) <= set("─┬")
    if not nearest_mark(length, SIXTEENTHS).mark:
        assert not before
