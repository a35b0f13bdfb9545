"""When the app has come to rest, told by its event loop and its threads instead of by a clock."""

import asyncio

from textual import _wait
from textual._context import active_app
from textual.app import App
from textual.worker import WorkerState

_by_the_clock = _wait.wait_for_idle
_LOOKS = 3  # what waits for a look at the sockets is there at the next


async def still(min_sleep: float = 0, max_sleep: float = 1) -> None:
    """Wait until nothing is left to do in the event loop or to paint, and for threads at work.

    Textual waits until the processor is idle for a while instead: time that no test needs, twice
    for every key, and that is too short where the machine has other work.
    """
    app = active_app.get(None)
    await _rest(app)
    if app and _threads_at_work(app):
        await _by_the_clock(min_sleep, max_sleep)
        await _rest(app)


async def _rest(app: App[object] | None) -> None:
    """Let everything run that is ready, and paint at once what would be painted a moment later."""
    while True:
        ready = asyncio.get_running_loop()._ready  # type: ignore[attr-defined]
        looks = 0
        while looks < _LOOKS:
            await asyncio.sleep(0)
            looks = 0 if ready else looks + 1
        if not (app and app._screen_stack and app.screen._update_timer._active.is_set()):
            return
        app.screen._on_timer_update()


def _threads_at_work(app: App[object]) -> bool:
    return any(
        worker._thread_worker and worker.state is WorkerState.RUNNING for worker in app.workers
    )
