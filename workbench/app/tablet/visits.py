"""The browsers that are connected: how many at once, and which gives way to another."""

import asyncio
from collections.abc import Sequence
from html import escape
from time import monotonic
from urllib.parse import quote

from aiohttp import web

from workbench.app.tablet import GRACE_SECONDS
from workbench.app.tablet.visit import LARGEST_MESSAGE, Visit
from workbench.app.tablet.words import page

MOST_VISITS = 4
"""Each takes a process of some 100 MB."""
SETTLED_SECONDS = 60.0
"""Nobody who has pressed a key since then is sent away."""
_HEARTBEAT_SECONDS = 15.0


class Visits:
    """Starts an app with `command` for every browser, for a few at once."""

    def __init__(self, command: Sequence[str]) -> None:
        self._command = command
        self._under_way: dict[asyncio.Task[None], Visit] = {}
        self._coming = 0

    @property
    def full(self) -> bool:
        return len(self._under_way) + self._coming >= MOST_VISITS

    async def receive(self, request: web.Request) -> web.StreamResponse:
        """Show an app over a websocket until the browser or the app ends."""
        socket = web.WebSocketResponse(heartbeat=_HEARTBEAT_SECONDS, max_msg_size=LARGEST_MESSAGE)
        if not socket.can_prepare(request):
            raise web.HTTPBadRequest(text="This is for the page's own use.")
        if self.full:
            raise web.HTTPServiceUnavailable(text=_told())
        self._coming += 1
        try:
            await socket.prepare(request)
            visit = Visit(self._command, socket)
            size = _asked(request, "width"), _asked(request, "height")
            task = asyncio.create_task(visit.last(*size))
            self._under_way[task] = visit
        finally:
            self._coming -= 1
        task.add_done_callback(lambda ended: self._under_way.pop(ended, None))
        await asyncio.wait({task})
        return socket

    async def tell_full(self, wrong: str = "") -> web.Response:
        """The page that says so, and offers to take over the visit that is idle for longest."""
        body = page("full.html", told=escape(_told()), wrong=escape(wrong))
        return web.Response(status=503, text=body, content_type="text/html")

    async def take_over(self, _: web.Request) -> web.StreamResponse:
        """End the visit that is idle for longest, where one is settled."""
        if not self.full:
            raise web.HTTPSeeOther("/")
        oldest = min(self._under_way, key=lambda task: self._under_way[task].heard)
        if monotonic() - self._under_way[oldest].heard < SETTLED_SECONDS:
            return await self.tell_full("All of them were used just now; try again in a minute.")
        self._under_way[oldest].parting = "Another browser took over."
        await _ended({oldest})
        raise web.HTTPSeeOther("/")

    async def hand_over(self, request: web.Request) -> web.StreamResponse:
        """A file that an app hands to its browser; it can be fetched once."""
        key = request.match_info["key"]
        for visit in self._under_way.values():
            if file := visit.files.pop(key, None):
                name = f"attachment; filename*=UTF-8''{quote(file.name, safe='')}"
                return web.Response(
                    body=bytes(file.content),
                    content_type=file.mime_type or "application/octet-stream",
                    headers={"Content-Disposition": name},
                )
        raise web.HTTPNotFound(text="This was fetched already, or never written.")

    async def end(self, _: web.Application) -> None:
        """End them all, before the server does."""
        for visit in self._under_way.values():
            visit.parting = "trimtally serve was ended."
        await _ended(set(self._under_way))


async def _ended(tasks: set[asyncio.Task[None]]) -> None:
    for task in tasks:
        task.cancel()
    if tasks:
        await asyncio.wait(tasks, timeout=GRACE_SECONDS + 3)


def _told() -> str:
    return f"{MOST_VISITS} browsers show Trimtally already, and no more do at once."


def _asked(request: web.Request, side: str) -> int:
    """The columns or rows that the page asks for, those of the design where it asks for none."""
    usual = {"width": 80, "height": 24}[side]
    given = request.query.get(side, "")
    return int(given) if given.isascii() and given.isdecimal() and len(given) < 6 else usual
