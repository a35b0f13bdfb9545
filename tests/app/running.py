"""Running the app in a test."""

import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot

from tests.app.terminal import PATIENCE_SECONDS
from workbench.app.app import TrimtallyApp
from workbench.app.session import Session

SMALL, LARGE = (80, 24), (120, 40)


@asynccontextmanager
async def running(
    path: Path | None = None, size: tuple[int, int] = SMALL
) -> AsyncIterator[tuple[TrimtallyApp, Pilot[None]]]:
    """The app with `path` open, settled."""
    app = TrimtallyApp(path)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        yield app, pilot


async def settled(pilot: Pilot[None]) -> None:
    """Wait for what the last keys set going, but not for questions that wait for an answer."""
    await pilot.pause()


async def until(pilot: Pilot[None], there: Callable[[], bool]) -> None:
    """Wait for what a thread or a timer does; only a test that is going to fail waits long."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not there() and time.monotonic() < end:
        await pilot.pause(0.01)
    assert there()
    await settled(pilot)


async def press(pilot: Pilot[None], *keys: str) -> None:
    await pilot.press(*keys)
    await settled(pilot)


async def type_over(pilot: Pilot[None], field: str, text: str) -> None:
    """Put `text` into the field called `field` of the form that is open."""
    from textual.widgets import Input

    pilot.app.screen.query_one(f"#{field}", Input).value = text
    await settled(pilot)


def opened(app: TrimtallyApp) -> Session:
    assert app.session is not None
    return app.session


def shown(app: TrimtallyApp, widget: str) -> str:
    """The plain text of a Static of the screen that is shown."""
    from textual.widgets import Static

    return str(app.screen.query_one(widget, Static).visual)


def said(app: TrimtallyApp) -> str:
    """What the notifications say."""
    return "\n".join(notification.message for notification in app._notifications)
