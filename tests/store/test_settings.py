"""The settings come back as they were kept, and say what is wrong with them."""

from fractions import Fraction

import pytest

from workbench.craft.faults import CraftError
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.store.faults import WorkshopError
from workbench.store.settings import Settings, keep_settings, settings_of
from workbench.store.workshop import Workshop


def test_without_a_workshop_they_are_careful_ones() -> None:
    assert settings_of(Workshop.open()) == Settings()
    assert not Workshop.open().exists


def test_they_come_back_exactly() -> None:
    settings = Settings(
        trimmer=Trimmer(cut_length=Length.of(20, "in")),
        tolerance=Length.of(Fraction(1, 3), "mm"),
        unit="mm",
        bell=True,
        voice=True,
        keys={"tick": "t"},
    )
    keep_settings(Workshop.open(), settings)
    assert settings_of(Workshop.open()) == settings


def test_a_tolerance_below_nothing_is_refused() -> None:
    with pytest.raises(CraftError, match="less than nothing"):
        Settings(tolerance=Length.of(-1, "mm"))


@pytest.mark.parametrize("kept", ["soon", 3, []])
def test_a_damaged_tolerance_is_said_so(kept: object) -> None:
    Workshop.open().set_setting("tolerance", kept)
    with pytest.raises(WorkshopError, match="tolerance"):
        settings_of(Workshop.open())


def test_strange_values_of_the_others_are_passed_over() -> None:
    Workshop.open().set_settings({"unit": "furlong", "bell": "yes", "keys": 3})
    assert settings_of(Workshop.open()) == Settings()
