"""The guided run, walked by keyboard and by mouse."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from textual.pilot import Pilot

from tests.app.bench import at_bench, batch_begun, done, on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, said
from tests.making.plans import DEALT, HARBOUR, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.messages import BatchChosen
from workbench.app.screens import run
from workbench.app.screens.start import StartScreen
from workbench.craft.trimmer import Trimmer
from workbench.drawing.figures import tall
from workbench.making.events import Event
from workbench.measure.length import Unit
from workbench.measure.writing import HALF_MM, SIXTEENTHS, Graduation
from workbench.planning.result import Combination, Cut, Score
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError
from workbench.store.preferences import Preferences, keep_preferences

STEPS = len(PLAN.steps)
CUTS = sum(isinstance(step, Cut) for step in PLAN.steps)
NARROW = (60, 20)


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's finger never bounces."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


def shows_figures(pilot: Pilot[None], number: str, unit: str) -> bool:
    seen = on_screen(pilot).splitlines()
    rows = [row.rstrip() for row in tall(number, unit, 7)]
    return any(
        all(row in line for row, line in zip(rows, seen[top:], strict=False))
        for top in range(len(seen) - len(rows) + 1)
    )


async def test_a_whole_batch_by_keyboard_to_the_last_tick() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        for ticked in range(STEPS):
            assert f"step {ticked + 1} of {STEPS}" in on_screen(pilot)
            assert done(batch_id) == ticked
            await pressed(pilot, ["space" if ticked % 2 else "enter"])
        seen = on_screen(pilot)
        assert "Finished" in seen
        assert "Offcuts to keep" in seen
        assert "1 of 2 1/4 × 4 3/4 in, net weave" in seen
        await pressed(pilot, ["space"])
    assert done(batch_id) == STEPS
    assert len(Workshop.open().events(batch_id)) == STEPS


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_nothing_vital_is_cut_off(size: tuple[int, int]) -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=size) as pilot:
        screen = await at_bench(pilot, batch_id)
        for step in PLAN.steps:
            seen = on_screen(pilot)
            words = screen.query_one("#words")
            assert words.virtual_size.height <= words.size.height
            assert "Next" in seen
            if isinstance(step, Cut | Score):
                assert "▼" in seen
                assert "━" in seen or "╋" in seen
            await pressed(pilot, ["space"])


@pytest.mark.parametrize("unit", ["in", "mm"])
async def test_all_words_of_every_step_fit_on_60_columns_and_20_rows(unit: Unit) -> None:
    keep_preferences(Workshop.open(), Preferences(unit=unit))
    batch_id = batch_begun(DEALT)
    async with TrimtallyApp().run_test(size=NARROW) as pilot:
        screen = await at_bench(pilot, batch_id)
        for step in DEALT.steps:
            for area in (screen.query_one("#words"), screen.query_one("#layers")):
                assert area.virtual_size.height <= area.size.height, step
            assert "Next" in on_screen(pilot)
            await pressed(pilot, ["space"])


async def test_a_whole_batch_by_mouse_to_the_last_tick() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        for ticked in range(STEPS):
            assert f"step {ticked + 1} of {STEPS}" in on_screen(pilot)
            await pilot.click("#words")
            await settled(pilot)
        assert "Finished" in on_screen(pilot)
    assert done(batch_id) == STEPS


async def test_a_mouse_click_ticks() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        for place in ("#setting", "#picture", "#words"):
            await pilot.click(place)
            await settled(pilot)
        assert f"step 4 of {STEPS}" in on_screen(pilot)
    assert done(batch_id) == 3


async def test_ticks_are_taken_back_one_by_one_also_after_reopening() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "space", "space", "backspace"])
        assert f"step 3 of {STEPS}" in on_screen(pilot)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        assert f"step 3 of {STEPS}" in on_screen(pilot)
        await pressed(pilot, ["backspace", "backspace", "backspace"])
        assert f"step 1 of {STEPS}" in on_screen(pilot)
    assert done(batch_id) == 0


async def test_units_are_switched_in_the_middle_of_the_run() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"])
        assert shows_figures(pilot, "3 3/4", "in")
        assert "halfway between 3 1/2 and 4" in on_screen(pilot)
        await pressed(pilot, ["u"])
        # 3 3/4 in is 95.25 mm: 1 in = 25.4 mm exactly (NBS Circular 572 addendum, 1960).
        assert shows_figures(pilot, "95", "mm")
        assert "nearest mark, 0.2 mm too short: exactly 3 3/4 in" in on_screen(pilot)
        await pressed(pilot, ["space", "u"])
        assert shows_figures(pilot, "3 3/4", "in")
        assert f"step 3 of {STEPS}" in on_screen(pilot)


async def test_the_mark_is_read_on_the_makers_own_rule() -> None:
    batch_id = batch_begun()
    rules: dict[Unit, Graduation] = {"in": SIXTEENTHS, "mm": HALF_MM}
    trimmer = replace(Trimmer(), graduations=rules)
    keep_preferences(Workshop.open(), Preferences(trimmer=trimmer))
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["u"])
        # 4 3/4 in is 120.65 mm: 1 in = 25.4 mm exactly (NBS Circular 572 addendum, 1960).
        assert shows_figures(pilot, "120.5", "mm")
        assert "nearest mark, 0.2 mm too short: exactly 4 3/4 in" in on_screen(pilot)


async def test_leaving_and_coming_back_resumes_at_the_same_cut() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "space"])
        before = on_screen(pilot)
        await pressed(pilot, ["escape"])
        assert isinstance(pilot.app.screen, StartScreen)
        await at_bench(pilot, batch_id)
        back = on_screen(pilot)
        assert "The guide stays at" in before
        assert "Set the guide to" in back  # it may have been moved meanwhile
        assert back.split("at once")[1] == before.split("at once")[1]


async def test_a_note_is_shown_until_the_next_tick_also_after_coming_back() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "n", *"gull", "enter"])
        assert "Note    gull" in on_screen(pilot)
        await pressed(pilot, ["escape"])
        await at_bench(pilot, batch_id)
        assert "Note    gull" in on_screen(pilot)
        await pressed(pilot, ["space"])
        assert "Note" not in on_screen(pilot)


async def test_a_press_while_the_tick_before_is_being_written_is_not_another_tick() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        screen = await at_bench(pilot, batch_id)
        for _ in range(5):
            screen.action_tick()
        await settled(pilot)
        assert f"step 2 of {STEPS}" in on_screen(pilot)
    assert done(batch_id) == 1


async def test_a_bouncing_finger_ticks_once(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = [100.0]
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0.2)
    monkeypatch.setattr(run, "monotonic", lambda: clock[0])
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"])
        clock[0] += 0.1
        await pressed(pilot, ["space"])
        assert done(batch_id) == 1
        clock[0] += 0.2
        await pressed(pilot, ["space"])
    assert done(batch_id) == 2


async def test_the_next_step_is_shown_only_when_the_tick_is_on_disk(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    batch_id = batch_begun()
    full = WorkshopError("workshop", "the disk is full", "make room, then do it again")

    def refuse(*_: object) -> int:
        raise full

    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        with monkeypatch.context() as patched:
            patched.setattr(Workshop, "append", refuse)
            await pressed(pilot, ["space"])
            assert f"step 1 of {STEPS}" in on_screen(pilot)
            assert "the disk is full" in said(app)
        await pressed(pilot, ["space"])
        assert f"step 2 of {STEPS}" in on_screen(pilot)
    assert done(batch_id) == 1


async def test_a_second_window_never_doubles_a_tick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "LOOK_SECONDS", 3600)
    batch_id = batch_begun()
    workshop = Workshop.open()
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        other = TrimtallyApp()
        async with other.run_test(size=SMALL) as second:
            await at_bench(second, batch_id)
            await pressed(second, ["space"])
        await pressed(pilot, ["space"])
        assert "another window has gone on" in said(app)
        assert f"step 2 of {STEPS}" in on_screen(pilot)
    events: tuple[Event, ...] = workshop.events(batch_id)
    assert [(event.what, event.step) for event in events] == [("ticked", 1)]


async def test_a_second_window_sees_the_ticks_of_the_first_by_itself() -> None:
    assert run.LOOK_SECONDS < 1
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        screen = await at_bench(pilot, batch_id)
        Workshop.open().append(batch_id, Event("ticked", 1, datetime.now(UTC)), 1)
        screen._batch.look()
        await settled(pilot)
        assert f"step 2 of {STEPS}" in on_screen(pilot)
        screen._batch.look()
        await settled(pilot)
        await pressed(pilot, ["space"])
    assert done(batch_id) == 2


async def test_a_long_list_of_layers_is_scrolled_with_the_arrows() -> None:
    layered = replace(HARBOUR.pieces[1], per_card=9)
    project = replace(HARBOUR, pieces=(HARBOUR.pieces[0], layered))
    layers = {layer.name: "gull dot" for layer in project.layers()}
    plan = replace(PLAN, combinations=(Combination(1, layers), Combination(2, layers)))
    batch_id = Workshop.open().create_batch(project, None, plan)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"] * 10)
        assert "tide 9" not in on_screen(pilot)
        await pressed(pilot, ["down"] * 30)
        assert "tide 9" in on_screen(pilot)
        await pressed(pilot, ["up"] * 30)
        assert "Assemble card 1 of 2" in on_screen(pilot)


async def test_a_title_in_wide_characters_leaves_the_count_its_place() -> None:
    project = replace(HARBOUR, title="波止場の灯" * 5)
    batch_id = Workshop.open().create_batch(project, None, PLAN)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        (line,) = (line for line in on_screen(pilot).splitlines() if "波止場" in line)
        assert line.rstrip().endswith(f"{CUTS} cuts left")


async def test_a_batch_that_is_not_there_is_said_so() -> None:
    app = TrimtallyApp()
    async with app.run_test(size=SMALL) as pilot:
        app.post_message(BatchChosen(404))
        await pilot.pause()
        await settled(pilot)
        assert "no batch 404" in said(app)
        assert isinstance(app.screen, StartScreen)


@pytest.mark.parametrize("size", [SMALL, LARGE, NARROW])
async def test_pictures_of_the_run(look: Look, size: tuple[int, int]) -> None:
    batch_id = batch_begun(DEALT)
    async with TrimtallyApp().run_test(size=size) as pilot:
        await at_bench(pilot, batch_id)
        await look(pilot, "run-first-cut")
        await pressed(pilot, ["space"])
        await look(pilot, "run-cut")
        await pressed(pilot, ["u"])
        await look(pilot, "run-cut-mm")
        await pressed(pilot, ["u", *["space"] * 6])
        await look(pilot, "run-score")
        await pressed(pilot, ["space"] * 2)
        await look(pilot, "run-round")
        await pressed(pilot, ["space", "space"])
        await look(pilot, "run-deal")
        await pressed(pilot, ["a"])
        await look(pilot, "run-assemble")
        await pressed(pilot, ["space"] * 2)
        await look(pilot, "run-finished")
