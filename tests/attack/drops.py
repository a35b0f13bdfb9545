"""Browsers that vanish while the app paints: no process stays, and no tick is lost."""

import asyncio
import json
import time
from pathlib import Path
from random import Random

from aiohttp import ClientSession, ClientWebSocketResponse

from tests.app.serving import address, served
from tests.app.test_tablet import apps_of
from tests.app.test_visits import drop
from tests.making.plans import HARBOUR, PLAN
from workbench.making.batch import replay
from workbench.store.database import Workshop

DROPS = 5
PATIENCE_SECONDS = 60


def browser_drops(chance: Random, folder: Path) -> None:
    """Five browsers, one after another and in pairs, drop at a random moment."""
    home = folder / "home"
    workshop = Workshop.open(home)
    batch_id = workshop.create_batch(HARBOUR, None, PLAN)
    with served(home=home) as process:
        asyncio.run(_dropped(chance, address(process)))
        end = time.monotonic() + PATIENCE_SECONDS
        while apps_of(home) and time.monotonic() < end:
            time.sleep(0.05)
        assert apps_of(home) == []
        assert process.poll() is None
    batch = workshop.batch(batch_id)
    assert [event.step for event in batch.events] == list(
        range(1, replay(batch.plan, batch.events).done + 1)
    )


async def _dropped(chance: Random, url: str) -> None:
    async with ClientSession() as visitor:
        for _ in range(DROPS):
            await _visited(chance, visitor, url)


async def _visited(chance: Random, visitor: ClientSession, url: str) -> None:
    async with visitor.ws_connect(f"{url}/ws", origin=url) as line:
        read = b""
        while b"Trimtally" not in read:
            read += await line.receive_bytes(timeout=PATIENCE_SECONDS)
        for _ in range(chance.randint(0, 60)):
            await line.send_str(json.dumps(_said(chance)))
        await asyncio.sleep(chance.uniform(0, 0.2))
        _vanish(chance, line)


def _said(chance: Random) -> list[object]:
    if chance.random() < 0.5:
        return ["stdin", chance.choice(["\r", " ", "\x1b[B", "1", "2", "o", "\x1b"])]
    return ["resize", {"width": chance.randint(-5, 500), "height": chance.randint(-5, 300)}]


def _vanish(chance: Random, line: ClientWebSocketResponse) -> None:
    if chance.random() < 0.8:  # else it says goodbye
        drop(line)
