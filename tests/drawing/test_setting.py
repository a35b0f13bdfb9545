"""The figures above the rule: as tall as the room allows, never left out."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.drawing.figures import LOWEST, tall
from workbench.drawing.setting import Setting, draw_setting
from workbench.measure.length import Length
from workbench.measure.writing import SIXTEENTHS

SETTING = Setting(
    title="Set the guide to",
    number="3 1/8",
    unit="in",
    aside="2 at once",
    note="halfway between 3 and 3 1/4",
    off="nearest mark, 0.2 mm too short",
    mark=Length.of(Fraction(25, 8), "in"),
)


@pytest.mark.parametrize("rows", [LOWEST + 1, LOWEST + 2])
@pytest.mark.parametrize("number", ["3 1/8", "10 15/16"])
def test_where_it_is_low_words_stand_beside_the_figures(number: str, rows: int) -> None:
    """58 columns and 8 rows are what a screen of 60 by 20 leaves where there is much to say."""
    drawn = draw_setting(replace(SETTING, number=number), SIXTEENTHS, 58, rows)
    figures = tall(number, "in", LOWEST)
    lines = drawn.lines()[1:]
    assert all(line.startswith(row.rstrip()) for row, line in zip(figures, lines, strict=False))
    beside = " ".join(line[len(figures[0]) :].strip() for line in lines)
    assert " ".join(beside.split()) == f"{SETTING.note} {SETTING.off}"


@given(st.integers(48, 120), st.integers(LOWEST + 3, 45))
def test_figures_and_words_are_always_there(columns: int, rows: int) -> None:
    drawn = draw_setting(SETTING, SIXTEENTHS, columns, rows)
    lines = drawn.lines()
    assert (drawn.width, drawn.height) == (columns, rows)
    assert lines[0].startswith("Set the guide to") and lines[0].endswith("2 at once")
    assert SETTING.note in lines
    assert SETTING.off in lines
    heights = range(LOWEST, rows, 2)
    assert any(
        [row.rstrip() for row in tall("3 1/8", "in", height)] == lines[top : top + height]
        for height in heights
        for top in range(1, rows - height + 1)
    )


@pytest.mark.parametrize(("rows", "ruled"), [(10, False), (13, False), (14, True), (40, True)])
def test_the_rule_is_left_out_only_where_it_is_low(rows: int, *, ruled: bool) -> None:
    drawn = "\n".join(draw_setting(SETTING, SIXTEENTHS, 60, rows).lines())
    assert ("▼" in drawn) == ruled
    assert ("┳" in drawn) == ruled


def test_more_room_makes_taller_figures() -> None:
    blocks = [
        "".join(draw_setting(SETTING, SIXTEENTHS, 100, rows).lines()).count("█")
        for rows in (14, 20, 27, 34)
    ]
    assert blocks == sorted(set(blocks))
