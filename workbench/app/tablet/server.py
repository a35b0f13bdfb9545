"""The server: one page, and an app of its own for every browser that opens it."""

import asyncio
import errno
import logging
import signal
import socket
import sys
from collections import deque
from contextlib import closing, suppress
from importlib.resources import files
from ipaddress import ip_address
from pathlib import Path

from aiohttp import web
from aiohttp.typedefs import Handler

from workbench.app.tablet.connections import PATIENCE_SECONDS, Connections
from workbench.app.tablet.guard import Guard, add_headers
from workbench.app.tablet.visits import Visits
from workbench.store.errors import visible

_PAGE = Path(__file__).parent / "page"
_TERMINAL = Path(str(files("textual_serve").joinpath("static")))
_GOODBYE_SECONDS = 2
_ASKING_SECONDS = 10
_LONGEST_LINE = 300
_MOST_LINES = 20
_MINUTE = 60.0
_log = logging.getLogger(__name__)
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
    log.addFilter(_Few())
    logging.basicConfig(handlers=[log])
    asyncio.run(_served(listener, word, path))


async def _served(listener: socket.socket, word: str | None, path: Path | None) -> None:
    ended = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGINT, signal.SIGTERM):
        with suppress(NotImplementedError):  # Windows
            loop.add_signal_handler(number, ended.set)
    connections = Connections()
    runner = web.AppRunner(
        web_application(word, path, connections),
        access_log=None,
        keepalive_timeout=PATIENCE_SECONDS,
        shutdown_timeout=_GOODBYE_SECONDS,
    )
    await runner.setup()
    assert runner.server
    server = await loop.create_server(connections.watching(runner.server), sock=listener)
    sweeping = asyncio.create_task(connections.sweep())
    try:
        await ended.wait()
    finally:
        sweeping.cancel()
        server.close()
        await runner.cleanup()


def web_application(
    word: str | None, path: Path | None, connections: Connections | None = None
) -> web.Application:
    """The page and its parts, guarded by `word` if there is one."""
    visits = Visits(_command(path))
    watched = [connections.note] if connections else []
    application = web.Application(
        middlewares=[*watched, _answer_faults, Guard(word).admit], client_max_size=1024
    )

    async def front(_: web.Request) -> web.StreamResponse:
        return await visits.tell_full() if visits.full else web.FileResponse(_PAGE / "page.html")

    application.add_routes(
        [
            web.get("/", front),
            web.get("/ws", visits.receive),
            web.get("/download/{key}", visits.hand_over),
            web.post("/take", visits.take_over),
            web.static("/page", _PAGE),
            web.static("/static", _TERMINAL),
        ]
    )
    application.on_response_prepare.append(add_headers)
    application.on_shutdown.append(visits.end)
    return application


@web.middleware
async def _answer_faults(request: web.Request, handler: Handler) -> web.StreamResponse:
    """Nothing that is asked for is a fault of the server, whatever it makes of it."""
    try:
        async with asyncio.timeout(_ASKING_SECONDS):
            await request.read()
        return await handler(request)
    except web.HTTPException:
        raise
    except Exception as error:
        _log.warning("a request was refused (%s)", type(error).__name__)
        raise web.HTTPBadRequest(text="This cannot be asked for.") from error


class _OneLine(logging.Formatter):
    """No traceback reaches the maker, and nothing from the network breaks the line."""

    def format(self, record: logging.LogRecord) -> str:
        line = visible(f"trimtally serve: {record.getMessage()[:_LONGEST_LINE]}")
        return line if len(line) <= _LONGEST_LINE else f"{line[: _LONGEST_LINE - 1]}…"


class _Few(logging.Filter):
    """Lets a few lines a minute pass, whatever the network sends."""

    def __init__(self) -> None:
        super().__init__()
        self._times: deque[float] = deque(maxlen=_MOST_LINES)

    def filter(self, record: logging.LogRecord) -> bool:
        if len(self._times) == _MOST_LINES and record.created - self._times[0] < _MINUTE:
            return False
        self._times.append(record.created)
        return True


def _command(path: Path | None) -> tuple[str, ...]:
    """What starts one app."""
    # -P: whatever lies in the folder of the maker is not the program.
    words = (sys.executable, "-P", "-m", "workbench.app.tablet")
    return (*words, str(path.resolve())) if path else words


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
