"""When the app has come to rest, told by its event loop and its threads instead of by a clock."""

import asyncio
from collections import deque

from textual import _wait
from textual._context import active_app
from textual.worker import WorkerState

_BY_THE_CLOCK = _wait.wait_for_idle
_LOOKS = 3  # what waits for a look at the sockets is there at the next


async def still(min_sleep: float = 0, max_sleep: float = 1) -> None:
    """Wait until nothing is left to do in the event loop, and for threads that are at work.

    Textual waits for the processor to be idle for a while instead, in which time passes that no
    test needs, twice for every key.
    """
    ready: deque[object] = asyncio.get_running_loop()._ready  # type: ignore[attr-defined]
    looks = 0
    while looks < _LOOKS:
        await asyncio.sleep(0)
        looks = 0 if ready else looks + 1
    if _threads_at_work():
        await _BY_THE_CLOCK(min_sleep, max_sleep)


def _threads_at_work() -> bool:
    app = active_app.get(None)
    return app is not None and any(
        worker._thread_worker and worker.state is WorkerState.RUNNING for worker in app.workers
    )
