"""When the app has come to rest, told by its event loop and its threads instead of by a clock."""

import asyncio
import time

from textual._context import active_app
from textual.app import App
from textual.worker import WorkerState

_LOOKS = 3  # what waits for a look at the sockets is there at the next
_GRANULE_SECONDS = 0.02
_IDLE_SECONDS = _GRANULE_SECONDS / 20


async def still(min_sleep: float = 0, max_sleep: float = 1) -> None:
    """Wait until nothing is left to do in the event loop or to paint, and for threads at work.

    Textual waits until the processor is idle for a while instead: time that no test needs, twice
    for every key, and that is too short where the machine has other work.
    """
    del min_sleep
    app = active_app.get(None)
    await _rest(app)
    while app and await _reported(app, max_sleep):
        await _rest(app)
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


async def _reported(app: App[object], most: float) -> bool:
    """Wait for the threads at work; whether there were any, and all have come to their end.

    Those that wait for something themselves, as the processor is idle, are not waited for.
    """
    end = time.monotonic() + most
    tasks = [
        worker._task
        for worker in app.workers
        if worker._thread_worker and worker._task and worker.state is WorkerState.RUNNING
    ]
    while tasks:
        spent = time.process_time()
        _, at_work = await asyncio.wait(tasks, timeout=_GRANULE_SECONDS)
        if not at_work:
            return True
        if time.process_time() - spent < _IDLE_SECONDS or time.monotonic() > end:
            return False
    return False
