"""The form of the settings, and what follows from them."""

from fractions import Fraction
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.bench import at_bench, batch_begun, on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running, shown, type_over
from workbench.app.app import TrimtallyApp
from workbench.app.screens import run
from workbench.app.screens.preferences_form import OWN_PACE, PreferencesForm
from workbench.app.widgets.fields import Choice, YesNo
from workbench.cli import main
from workbench.craft.pace import ESTIMATED
from workbench.measure.length import Length
from workbench.store.database import Workshop
from workbench.store.preferences import preferences_of

NARROW = (60, 20)


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's finger never bounces."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


async def choose(pilot: Pilot[None], field: str, words: str) -> None:
    choice = pilot.app.screen.query_one(f"#{field}", Choice)
    choice._choose(choice.options.index(words))
    await settled(pilot)


async def test_every_setting_is_kept_and_followed() -> None:
    async with running() as (app, pilot):
        await press(pilot, "f5")
        assert isinstance(app.screen, PreferencesForm)
        await type_over(pilot, "cut", "18")
        await type_over(pilot, "stack-patterned", "4")
        await type_over(pilot, "tolerance", "1/32")
        await type_over(pilot, "keys", "tick=t,space pause=k")
        await choose(pilot, "marks-in", "1/8 in")
        await choose(pilot, "unit", "millimetres")
        await press(pilot, "f4")
        kept = preferences_of(Workshop.open())
        assert kept.trimmer.cut_length == Length.of(18, "in")
        assert kept.trimmer.at_once["patterned"] == 4
        assert kept.trimmer.graduations["in"].step == Fraction(1, 8)
        assert kept.tolerance == Length.of(Fraction(1, 32), "in")
        assert (kept.unit, app.unit) == ("mm", "mm")
        assert kept.keys == {"tick": "t,space", "pause": "k"}
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        assert pilot.app.unit == "mm"  # type: ignore[attr-defined]
        await pressed(pilot, ["t"])
        assert "step 2 of" in on_screen(pilot)


async def test_what_was_set_elsewhere_is_shown_and_not_written_over() -> None:
    async with running() as (app, pilot):
        await press(pilot, "f5", "escape")
        assert main(["settings", "longest-cut", "17 in"]) == 0
        await press(pilot, "f5")
        await type_over(pilot, "tolerance", "1/32")
        await press(pilot, "f4")
        assert app.trimmer().cut_length == Length.of(17, "in")
    kept = preferences_of(Workshop.open())
    assert kept.trimmer.cut_length == Length.of(17, "in")
    assert kept.tolerance == Length.of(Fraction(1, 32), "in")


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("cut", "0", "longest cut"),
        ("hold", "wide", "narrowest strip"),
        ("stack-vellum", "0", "from 1 to 50"),
        ("stack-other", "400", "cannot be cut at once"),
        ("tolerance", "-1", "even within"),
        ("keys", "tock=t", 'no command is called "tock"'),
        ("keys", "tick=ctrl", "no key that can be used"),
    ],
)
async def test_what_is_wrong_is_said_and_not_kept(field: str, typed: str, words: str) -> None:
    async with running() as (app, pilot):
        await press(pilot, "f5")
        await type_over(pilot, field, typed)
        assert words in shown(app, "#fault")
        await press(pilot, "f4")
        assert isinstance(app.screen, PreferencesForm)
    assert not Workshop.open().exists


@pytest.mark.usefixtures("planned")
async def test_another_trimmer_plans_the_open_project_anew(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await pressed(pilot, ["3"])
        assert app.session and app.session.plan
        planned = app.session.planned
        await press(pilot, "f5")
        await type_over(pilot, "hold", "1")
        await press(pilot, "f4")
        await settled(pilot)
        assert app.session.plan is not None
        assert app.session.planned is not planned


@pytest.mark.parametrize("size", [SMALL, LARGE, NARROW])
async def test_pictures_of_the_settings(look: Look, size: tuple[int, int]) -> None:
    async with running(size=size) as (_, pilot):
        await press(pilot, "f5")
        await look(pilot, "settings")


async def test_the_makers_own_pace_is_shown_and_switched_off() -> None:
    async with running() as (app, pilot):
        await press(pilot, "f5")
        assert (
            "so far 20 s to set the guide, 8 a cut, 3 a sheet laid, 2 a turn: estimates"
            in " ".join(on_screen(pilot).split()).replace(" │ │ ", " ")
        )
        own = next(mark for mark in app.screen.query(YesNo) if mark.label == OWN_PACE)
        assert own.value
        own.value = False
        await press(pilot, "f4")
        assert not preferences_of(Workshop.open()).own_pace
        assert app.pace()() == ESTIMATED
