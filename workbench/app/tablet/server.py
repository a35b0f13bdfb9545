"""The server: one page, and an app of its own for every browser that opens it."""

import asyncio
import errno
import logging
import os
import shlex
import socket
import subprocess
import sys
from collections.abc import Awaitable, Callable
from contextlib import closing
from ipaddress import ip_address
from pathlib import Path

from aiohttp import web
from textual_serve.server import Server

from workbench.app.tablet.guard import Guard, add_headers
from workbench.store.errors import visible

_PAGE = Path(__file__).parent / "page"
_GOODBYE_SECONDS = 2
_TROUBLES = {
    errno.EADDRINUSE: "port {port} is taken by another program; choose another with --port",
    errno.EADDRNOTAVAIL: "{address} is not an address of this machine",
    errno.EACCES: "this system keeps port {port} to itself; choose one above 1023 with --port",
}


class AddressError(ValueError):
    """Raised when the address or port cannot be served; its text is one line."""


def listen(address: str, port: int) -> socket.socket:
    """A socket at that address; port 0 takes any that is free. Raises AddressError."""
    try:
        family, *_, place = socket.getaddrinfo(address, port, type=socket.SOCK_STREAM)[0]
        return socket.create_server(place[:2], family=family)
    except (socket.gaierror, UnicodeError) as error:
        raise AddressError(f"there is no address {address}") from error
    except OSError as error:
        trouble = _TROUBLES.get(error.errno or 0, f"cannot serve {{address}} ({error.strerror})")
        raise AddressError(trouble.format(address=address, port=port)) from error


def is_private(listener: socket.socket) -> bool:
    """Whether nobody but this machine reaches it."""
    return ip_address(listener.getsockname()[0]).is_loopback


def where(listener: socket.socket) -> str:
    """What to type in a browser."""
    address, port = listener.getsockname()[:2]
    if ip_address(address).is_unspecified:
        address = _towards_the_network(listener.family) or address
    shown = f"[{address}]" if ":" in address else address
    return f"http://{shown}:{port}"


def serve(listener: socket.socket, word: str | None, path: Path | None) -> None:
    """Serve the app, with the project at `path` open if one is given, until it is interrupted."""
    log = logging.StreamHandler()
    log.setFormatter(_OneLine())
    logging.basicConfig(handlers=[log])
    web.run_app(
        web_application(word, path),
        sock=listener,
        print=None,
        access_log=None,
        shutdown_timeout=_GOODBYE_SECONDS,
    )


def web_application(word: str | None, path: Path | None) -> web.Application:
    """The page and its parts, guarded by `word` if there is one."""
    apps = Server(_command(path))
    visits = _Visits(apps.handle_websocket)
    application = web.Application(middlewares=[Guard(word).admit], client_max_size=1024)
    application.add_routes(
        [
            web.get("/", _page),
            web.get("/ws", visits.receive),
            web.static("/page", _PAGE),
            web.static("/static", apps.statics_path),
        ]
    )
    application.on_response_prepare.append(add_headers)
    application.on_shutdown.append(visits.end)
    return application


class _OneLine(logging.Formatter):
    """No traceback reaches the maker, and nothing from the network breaks the line."""

    def format(self, record: logging.LogRecord) -> str:
        return visible(f"trimtally serve: {record.getMessage()}")


class _Visits:
    """The browsers that are connected, so that their apps can be ended before the server."""

    def __init__(self, visit: Callable[[web.Request], Awaitable[web.WebSocketResponse]]) -> None:
        self._visit = visit
        self._under_way: set[asyncio.Task[object]] = set()

    async def receive(self, request: web.Request) -> web.StreamResponse:
        if not web.WebSocketResponse().can_prepare(request):
            raise web.HTTPBadRequest(text="This is for the page's own use.")
        task = asyncio.current_task()
        assert task
        self._under_way.add(task)
        try:
            return await self._visit(request)
        finally:
            self._under_way.discard(task)

    async def end(self, _: web.Application) -> None:
        for task in self._under_way:
            task.cancel()
        if self._under_way:
            # A tablet out of reach never says goodbye; its app has ended by then all the same.
            await asyncio.wait(self._under_way, timeout=_GOODBYE_SECONDS)


async def _page(_: web.Request) -> web.FileResponse:
    return web.FileResponse(_PAGE / "page.html")


def _command(path: Path | None) -> str:
    """The line for the system's shell that starts one app."""
    # -P: whatever lies in the folder of the maker is not the program.
    words = [sys.executable, "-P", "-m", "workbench.app.tablet"]
    if path:
        words.append(str(path.resolve()))
    return subprocess.list2cmdline(words) if os.name == "nt" else f"exec {shlex.join(words)}"


def _towards_the_network(family: socket.AddressFamily) -> str | None:
    """The address by which others in the network reach this machine; nothing is sent."""
    # Addresses kept for documentation (RFC 5737, RFC 3849): all that counts is the way there.
    elsewhere = "2001:db8::1" if family == socket.AF_INET6 else "192.0.2.1"
    with closing(socket.socket(family, socket.SOCK_DGRAM)) as probe:
        try:
            probe.connect((elsewhere, 9))
        except OSError:
            return None
        return str(probe.getsockname()[0])
