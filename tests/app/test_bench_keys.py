"""The keys at the bench beside the one that ticks."""

import pytest

from tests.app.bench import at_bench, batch_begun, done, on_screen, pressed, settled
from tests.app.running import SMALL
from tests.making.plans import PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.screens import bench_signals, run
from workbench.app.screens.start import StartScreen
from workbench.app.voice import Voice
from workbench.app.widgets.questions import Question
from workbench.store.database import Workshop

STEPS = len(PLAN.steps)


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's finger never bounces."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)
    monkeypatch.setattr(run, "LOCKED_SECONDS", 0)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    now = [100.0]
    monkeypatch.setattr(run, "monotonic", lambda: now[0])
    return now


async def test_looking_ahead_ticks_nothing_and_comes_back() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        here = on_screen(pilot)
        await pressed(pilot, ["right", "right"])
        seen = on_screen(pilot)
        assert "only looking, at step 3: space comes back" in seen
        assert "S1.2 and S2.2" in seen
        await pressed(pilot, ["left"])
        assert "only looking, at step 2" in on_screen(pilot)
        await pressed(pilot, ["space"])
        assert on_screen(pilot) == here
        await pressed(pilot, ["right"] * 30)
        assert f"only looking, at step {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["backspace"])
        assert on_screen(pilot) == here
    assert done(batch_id) == 0


async def test_all_alike_at_once_and_one_by_one() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "a"])
        assert f"step 4 of {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["backspace"])
        assert f"step 2 of {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["a", *["space"] * 4, "o"])
        assert "2, 1 done" in on_screen(pilot)
        await pressed(pilot, ["o"])
        assert f"step 9 of {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["o"])
        assert "1 done" in on_screen(pilot)
        await pressed(pilot, ["space", "a", "a"])
        assert "Finished" in on_screen(pilot)
    assert done(batch_id) == STEPS


async def test_a_pause_dims_and_nothing_is_ticked_until_she_goes_on() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        screen = await at_bench(pilot, batch_id)
        await pressed(pilot, ["p"])
        assert "paused: space goes on" in on_screen(pilot)
        assert screen.query_one("#words").opacity < 1
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        assert "paused" in on_screen(pilot)
        await pressed(pilot, ["space"])
        assert f"step 1 of {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["space"])
    assert done(batch_id) == 1
    assert [event.what for event in Workshop.open().events(batch_id)] == [
        "paused",
        "went on",
        "ticked",
    ]


@pytest.mark.parametrize("key", ["right", "left", "x", "a", "backspace", "p"])
async def test_whatever_is_pressed_first_goes_on_from_a_pause(key: str) -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        screen = await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "p", key])
        assert pilot.app.screen is screen
        assert f"step 2 of {STEPS}" in on_screen(pilot)


async def test_locked_only_the_tick_works() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        screen = await at_bench(pilot, batch_id)
        await pressed(pilot, ["f9"])
        assert "locked: F9 unlocks" in on_screen(pilot)
        await pressed(pilot, ["q", "escape", "backspace", "p", "f1", "f2", "u", "a", "o", "right"])
        assert pilot.app.screen is screen
        assert done(batch_id) == 0
        await pressed(pilot, ["space"])
        assert done(batch_id) == 1
        await pressed(pilot, ["f9", "escape"])
        assert isinstance(pilot.app.screen, StartScreen)


@pytest.mark.parametrize(("locked", "ticks"), [(False, 2), (True, 1)])
async def test_a_key_held_down_does_not_tick_on_and_on(
    clock: list[float], monkeypatch: pytest.MonkeyPatch, locked: bool, ticks: int
) -> None:
    """The first repeat comes after half a second, all others 33 ms apart (memory)."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0.3)
    monkeypatch.setattr(run, "LOCKED_SECONDS", 0.8)
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["f9"] if locked else [])
        for after in (0, 0.5, *[0.033] * 40):
            clock[0] += after
            await pressed(pilot, ["space"])
    assert done(batch_id) == ticks


async def test_the_cautions_can_be_read_again() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["a", "c"])
        assert isinstance(pilot.app.screen, Question)
        seen = on_screen(pilot)
        for word in ("Blade:", "Cutting is done", "Glue and heat", "Small parts"):
            assert word in seen
        await pressed(pilot, ["escape"])
        assert "Blade:" not in on_screen(pilot)


async def test_a_note_is_kept_with_the_batch() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["n", *"gull", "enter"])
        await pressed(pilot, ["space"])
        events = Workshop.open().events(batch_id)
        assert [(event.what, event.note) for event in events] == [("noted", "gull"), ("ticked", "")]
        await pressed(pilot, ["a", "space", "space", "a", "space", "space", "space", "a"])
        assert "Note: gull" in on_screen(pilot)


async def test_bell_and_voice_are_off_until_asked_for_and_remembered(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    heard: list[str] = []
    monkeypatch.setattr(bench_signals, "voice_of_this_machine", lambda: Voice(("voice",)))
    monkeypatch.setattr(Voice, "say", lambda _, words: heard.append(words))
    monkeypatch.setattr(TrimtallyApp, "bell", lambda _: heard.append("bell"))
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"])
        assert heard == []
        await pressed(pilot, ["b", "v", "space"])
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"])
    bell, words, again = heard[0], heard[1], heard[2]
    assert bell == again == "bell"
    assert words.startswith(
        "The guide stays at 3 and 3 quarters inches. Halfway between 3 and a half and 4"
    )


async def test_without_a_voice_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench_signals, "voice_of_this_machine", lambda: None)
    batch_id = batch_begun()
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["v"])
        await settled(pilot)
        assert "no command that speaks" in on_screen(pilot)
