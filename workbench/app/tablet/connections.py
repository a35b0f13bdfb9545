"""Connections that ask for nothing are closed, so that a few of them do not keep others out."""

import asyncio
from collections.abc import Callable
from time import monotonic

from aiohttp.typedefs import Handler
from aiohttp.web import Request, RequestHandler, StreamResponse, middleware

MOST_CONNECTIONS = 64
PATIENCE_SECONDS = 30.0
"""For a request to come in whole, and for its answer to be taken."""
_SWEEP_SECONDS = 3.0
Protocol = RequestHandler


class Connections:
    """Knows which connections are open, and since when each waits for a request."""

    def __init__(self) -> None:
        self._waiting: dict[Protocol, float] = {}
        self._answered: set[Protocol] = set()

    def watching(self, factory: Callable[[], Protocol]) -> Callable[[], Protocol]:
        """`factory` of protocols with each of them watched; too many are closed at once."""

        def opened() -> Protocol:
            protocol = factory()
            too_many = len(self._waiting) + len(self._answered) >= MOST_CONNECTIONS
            self._waiting[protocol] = monotonic()
            if too_many:
                asyncio.get_running_loop().call_soon(_close, protocol)
            return protocol

        return opened

    @middleware
    async def note(self, request: Request, handler: Handler) -> StreamResponse:
        protocol = request.protocol
        self._waiting.pop(protocol, None)
        self._answered.add(protocol)
        try:
            return await handler(request)
        finally:
            self._answered.discard(protocol)
            self._waiting[protocol] = monotonic()

    async def sweep(self) -> None:
        """Close, from time to time and without end, those that have waited for too long."""
        while True:
            await asyncio.sleep(_SWEEP_SECONDS)
            for protocol, since in list(self._waiting.items()):
                if monotonic() - since > PATIENCE_SECONDS:
                    _close(protocol)
                if protocol.transport is None:
                    del self._waiting[protocol]


def _close(protocol: Protocol) -> None:
    if protocol.transport:
        protocol.transport.abort()
