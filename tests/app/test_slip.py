"""Something came out wrong at the bench, and a way on is chosen."""

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.app.bench import at_bench, batch_begun, done, on_screen, pressed, settled
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL
from tests.making.plans import HARBOUR, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.screens import run
from workbench.app.screens.slip import SlipScreen
from workbench.making.batch import replay
from workbench.store.database import Workshop

NARROW = (60, 20)


@pytest.fixture(autouse=True)
def no_bounce(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's finger never bounces."""
    monkeypatch.setattr(run, "BOUNCE_SECONDS", 0)


async def choose(pilot: Pilot[None], words: str) -> None:
    screen = pilot.app.screen
    assert isinstance(screen, SlipScreen)
    at = next(n for n, (answer, _) in enumerate(screen._answers) if words in answer)
    await pressed(pilot, [*["down"] * at, "enter"])


async def test_a_lost_piece_one_card_fewer_and_taken_back() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "space", "space"])
        before = on_screen(pilot)
        await pressed(pilot, ["x"])
        await choose(pilot, "lost")
        await choose(pilot, "panel")
        assert "Ways on from here" in on_screen(pilot)
        await choose(pilot, "One card fewer")
        assert "step 4 of 10" in on_screen(pilot)
        await pressed(pilot, ["backspace"])
        title, *below = on_screen(pilot).split("\n")
        assert "The way on is taken back" in title
        assert below == before.split("\n")[1:]
    assert done(batch_id) == 3
    events = Workshop.open().events(batch_id)
    assert replay(PLAN, events) == replay(PLAN, events[:3])


async def test_a_mended_batch_is_gone_on_with_after_a_restart() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "space", "space", "x"])
        await choose(pilot, "torn")
        await choose(pilot, "panel")
        await choose(pilot, "One card fewer")
        there = on_screen(pilot)
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        assert on_screen(pilot) == there
        await pressed(pilot, ["space"] * 7)
        assert "1 card, 4 × 5 in" in on_screen(pilot)
        assert "Slip, torn or smudged: one card fewer." in on_screen(pilot)
    (line,) = Workshop.open().batches()
    assert line.finished


async def test_a_length_that_cannot_have_been_is_refused() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["x"])
        await choose(pilot, "another length")
        await choose(pilot, "step 1")
        await pressed(pilot, [*"soon", "enter"])
        assert "soon" in on_screen(pilot)
        await pressed(pilot, [*["backspace"] * 4, *"9", "enter"])
        assert "would lie outside the part that was cut" in on_screen(pilot)
        assert "The whole was 6 in." in on_screen(pilot)
        await pressed(pilot, ["backspace", *"4", "enter"])
        assert "Ways on from here" in on_screen(pilot)
        assert "would lie outside" not in on_screen(pilot)
        await pressed(pilot, ["escape"])
    assert done(batch_id) == 0


async def test_at_a_card_its_own_pieces_come_first_and_are_meant() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space"] * 11 + ["x"])
        await choose(pilot, "lost")
        screen = pilot.app.screen
        assert isinstance(screen, SlipScreen)
        names = [name for name, _ in screen._answers]
        assert [name.split(" ")[0] for name in names[:3]] == ["panel", "tide", "card"]
        assert "finished card 1" in names
        assert all(word not in " ".join(names[:3]) for word in ("offcut", "finished"))


async def test_a_sixteenth_short_may_be_kept() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "x"])
        await choose(pilot, "another length")
        await choose(pilot, "step 2")
        await pressed(pilot, [*"3 11/16".replace(" ", "-"), "enter"])
        await settled(pilot)
        assert "Keep it as it is" in on_screen(pilot)


async def test_a_slip_is_typed_at_once_and_told_with_its_ways_on() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "x", *"1/8", "space", *"short", "enter"])
        await settled(pilot)
        assert "Step 2 cut at 3 5/8 in. Ways on" in " ".join(on_screen(pilot).split())


async def test_no_blank_is_lost_of_what_is_typed_before_the_field_has_the_focus() -> None:
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=SMALL) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "x"])
        answers = pilot.app.focused
        for key in [*"1/8", "space", *"short"]:
            pilot.app.screen.set_focus(answers)
            await pressed(pilot, [key])
        assert pilot.app.screen.query_one(Input).value == "1/8 short"


@pytest.mark.parametrize("size", [SMALL, LARGE, NARROW])
async def test_pictures_of_a_slip(look: Look, size: tuple[int, int]) -> None:
    assert HARBOUR.card.count == 2
    batch_id = batch_begun()
    async with TrimtallyApp().run_test(size=size) as pilot:
        await at_bench(pilot, batch_id)
        await pressed(pilot, ["space", "space", "space", "x"])
        await choose(pilot, "lost")
        await choose(pilot, "panel")
        await look(pilot, "run-slip")
