"""The settings come back as they were kept, and say what is wrong with them."""

from fractions import Fraction

import pytest

from workbench.craft.errors import CraftError
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.measure.writing import HALF_MM, Graduation
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError
from workbench.store.preferences import Preferences, keep_preferences, preferences_of


def test_without_a_workshop_they_are_careful_ones() -> None:
    assert preferences_of(Workshop.open()) == Preferences()
    assert not Workshop.open().exists


def test_they_come_back_exactly() -> None:
    settings = Preferences(
        trimmer=Trimmer(cut_length=Length.of(20, "in")),
        tolerance=Length.of(Fraction(1, 3), "mm"),
        unit="mm",
        bell=True,
        voice=True,
        keys={"tick": "t"},
        own_pace=False,
    )
    keep_preferences(Workshop.open(), settings)
    assert preferences_of(Workshop.open()) == settings


def test_a_tolerance_below_nothing_is_refused() -> None:
    with pytest.raises(CraftError, match="less than nothing"):
        Preferences(tolerance=Length.of(-1, "mm"))


@pytest.mark.parametrize("kept", ["soon", 3, [], "-1 mm"])
def test_a_damaged_tolerance_is_said_so(kept: object) -> None:
    Workshop.open().set_preference("tolerance", kept)
    with pytest.raises(WorkshopError, match="tolerance"):
        preferences_of(Workshop.open())


def test_strange_values_of_the_others_are_passed_over() -> None:
    Workshop.open().set_preferences({"unit": "furlong", "bell": "yes", "keys": 3})
    assert preferences_of(Workshop.open()) == Preferences()


def test_the_trimmer_is_kept_exactly() -> None:
    workshop = Workshop.open()
    assert preferences_of(workshop).trimmer == Trimmer()
    trimmer = Trimmer(
        cut_length=Length.of(Fraction(37, 3), "in"),
        rule_length=Length.of(305, "mm"),
        hold=Length.of(Fraction(1, 3), "mm"),
        at_once={"patterned": 3, "cardstock": 2, "vellum": 1, "other": 1},
        graduations={"in": Graduation("in", Fraction(1, 32)), "mm": HALF_MM},
    )
    keep_preferences(workshop, Preferences(trimmer=trimmer))
    assert preferences_of(workshop).trimmer == trimmer


def test_a_trimmer_kept_without_its_graduations_has_ordinary_ones() -> None:
    workshop = Workshop.open()
    keep_preferences(workshop, Preferences())
    kept = workshop.preference("trimmer")
    del kept["graduations"]
    workshop.set_preference("trimmer", kept)
    assert preferences_of(workshop).trimmer == Trimmer()


def test_a_damaged_trimmer() -> None:
    workshop = Workshop.open()
    workshop.set_preference("trimmer", {"cut_length": "long"})
    with pytest.raises(WorkshopError, match="set them again"):
        preferences_of(workshop)
