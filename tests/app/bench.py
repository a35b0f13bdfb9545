"""A batch in the workshop, and the app at its bench."""

from collections.abc import Iterable

from textual.pilot import Pilot

from tests.making.plans import HARBOUR, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.messages import BatchChosen
from workbench.app.screens.run import RunScreen
from workbench.planning.result import Plan
from workbench.store.database import Workshop


def batch_begun(plan: Plan = PLAN) -> int:
    """The hand-made batch, begun in this test's workshop."""
    return Workshop.open().create_batch(HARBOUR, None, plan)


async def settled(pilot: Pilot[None]) -> None:
    """Wait until every thread has reported and every message is dealt with."""
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def at_bench(pilot: Pilot[None], batch_id: int) -> RunScreen:
    app = pilot.app
    assert isinstance(app, TrimtallyApp)
    app.post_message(BatchChosen(batch_id))
    await pilot.pause()
    await settled(pilot)
    screen = app.screen
    assert isinstance(screen, RunScreen)
    return screen


async def pressed(pilot: Pilot[None], keys: Iterable[str]) -> None:
    """Press each key once the one before is dealt with."""
    for key in keys:
        await pilot.press(key)
        await settled(pilot)


def on_screen(pilot: Pilot[None]) -> str:
    """The characters shown, line by line."""
    lines = pilot.app.screen._compositor.render_strips()
    return "\n".join(strip.text for strip in lines)


def done(batch_id: int) -> int:
    """How many steps are ticked on disk."""
    (line,) = (line for line in Workshop.open().batches() if line.id == batch_id)
    return line.done
