"""How the cutting goes in the hand, counted by hand on the harbour notes."""

import pytest

from tests.making.plans import PLAN, inches
from workbench.planning.analysis.metrics import settings_sheet_by_sheet, single_cuts, turns, unheld
from workbench.planning.result import settings


def test_four_strokes_of_two_sheets_and_three_of_one() -> None:
    assert single_cuts(PLAN) == 4 * 2 + 3


def test_the_guide_is_set_more_often_sheet_by_sheet() -> None:
    """4 3/4, 3 3/4 and 1 in for either print, then 10 and 4 in; together each but once."""
    assert settings(PLAN) == 5
    assert settings_sheet_by_sheet(PLAN) == 3 + 3 + 2


def test_the_sheets_are_turned_three_times() -> None:
    """Height; width, width; height, height; width, width."""
    assert turns(PLAN) == 3


@pytest.mark.parametrize(("hold", "steps"), [("1", []), ("1 1/16", [4])])
def test_the_tide_is_an_inch_wide_and_what_is_cut_off_it_less(hold: str, steps: list[int]) -> None:
    assert [step.n for step in unheld(PLAN, inches(hold))] == steps
