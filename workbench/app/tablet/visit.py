"""One browser and the app that it shows, which runs in a process of its own."""

import asyncio
import json
import logging
import os
import subprocess
from asyncio.subprocess import Process
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import PurePath
from time import monotonic

from aiohttp import WSMsgType
from aiohttp.web import WebSocketResponse
from textual._binary_encode import DecodeError, load

from workbench.app.tablet import GRACE_SECONDS

SLOW_SECONDS = 20.0
"""A browser, or an app, that takes nothing for so long is not waited for."""
IDLE_SECONDS = 4 * 3600.0
SMALLEST, LARGEST = (20, 8), (400, 200)
"""Columns and rows of a terminal."""
LARGEST_MESSAGE = 1 << 16
MOST_FILES, LARGEST_FILE = 4, 1 << 26
_STARTED = b"__GANGLION__\n"
_FAULT = "A fault of the program ended this, not you; the terminal of trimtally serve says more."
_IDLE = "No key was pressed for hours."
_GONE = (WSMsgType.CLOSE, WSMsgType.CLOSING, WSMsgType.CLOSED, WSMsgType.ERROR)
_log = logging.getLogger(__name__)


@dataclass
class Handed:
    """A file on its way to the browser."""

    name: str
    mime_type: str
    content: bytearray = field(default_factory=bytearray)


class Visit:
    """Passes on what browser and app say, in the packets of Textual's web driver.

    A packet is a letter (D for what a terminal reads and writes, M for all else, as JSON), four
    bytes for its length, and that many bytes. What the app hands over comes in packets P.
    """

    def __init__(self, command: Sequence[str], socket: WebSocketResponse) -> None:
        self._command = command
        self._socket = socket
        self.heard = monotonic()
        """When a key was last pressed, or the like."""
        self.files: dict[str, Handed] = {}
        """What the app hands to the browser, by the key that it is fetched with, once."""
        self.parting = ""
        """Why it ends, for the page; 123 bytes at most (RFC 6455, 5.5)."""
        self._failed = ""

    async def last(self, columns: int, rows: int) -> None:
        """Start the app and show it until either side ends; its process has ended after this."""
        process = await asyncio.create_subprocess_exec(
            *self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=_environment(columns, rows),
            # Ctrl-C in the terminal of the server is not meant for it.
            start_new_session=True,
        )
        assert process.stdin
        assert process.stdout
        assert process.stderr
        aside = asyncio.create_task(_last_line(process.stderr))
        sides = (
            asyncio.create_task(self._show(process.stdout, process.stdin)),
            asyncio.create_task(self._obey(process.stdin)),
        )
        try:
            await asyncio.wait(sides, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for side in sides:
                side.cancel()
            await asyncio.gather(*sides, return_exceptions=True)
            await _end(process)
            await self._tell_fault(process, aside)
            await self._say_goodbye()

    async def _tell_fault(self, process: Process, aside: asyncio.Task[str]) -> None:
        """Say what went wrong, if anything did: of a fault the app's last line tells the report."""
        done, _ = await asyncio.wait({aside}, timeout=0.5)
        aside.cancel()
        said = "".join(task.result() for task in done) if process.returncode else ""
        if failed := said or self._failed:
            self.parting = _FAULT
            _log.error("%s", failed.removeprefix("trimtally: "))

    async def _show(self, output: asyncio.StreamReader, app: asyncio.StreamWriter) -> None:
        """Send the browser what the app writes, until one of them has ended."""
        try:
            while await output.readuntil(b"\n") != _STARTED:
                pass
            while True:
                kind = await output.readexactly(1)
                size = int.from_bytes(await output.readexactly(4), "big")
                payload = await output.readexactly(size)
                if kind == b"D":
                    async with asyncio.timeout(SLOW_SECONDS):
                        await self._socket.send_bytes(payload)
                elif kind == b"P":
                    await self._take(load(payload), app)
                elif kind == b"M" and (said := json.loads(payload)).get("type") == "exit":
                    return
                elif kind == b"M" and said.get("type") == "deliver_file_start":
                    self._expect(said, app)
        except (asyncio.IncompleteReadError, asyncio.LimitOverrunError):
            self._failed = "an app in the browser ended of itself; what was ticked is kept"
        except (DecodeError, AttributeError, LookupError, TypeError, ValueError):
            self._failed = "an app in the browser was not understood; what was ticked is kept"
        except (OSError, RuntimeError, TimeoutError):
            return  # the browser has gone, or takes nothing

    # A file that the app gives comes piece by piece, as it is asked for.

    def _expect(self, said: Mapping[str, object], app: asyncio.StreamWriter) -> None:
        if len(self.files) >= MOST_FILES:
            del self.files[next(iter(self.files))]
        key = str(said["key"])
        self.files[key] = Handed(PurePath(str(said["path"])).name, str(said["mime_type"]))
        _ask(key, app)

    async def _take(self, said: object, app: asyncio.StreamWriter) -> None:
        match said:
            case ("deliver_chunk", str(key), bytes(piece)) if key in self.files:
                file = self.files[key]
                file.content += piece
                if len(file.content) > LARGEST_FILE:
                    del self.files[key]
                elif piece:
                    _ask(key, app)
                else:
                    async with asyncio.timeout(SLOW_SECONDS):
                        await self._socket.send_json(["deliver_file_start", key])

    async def _obey(self, app: asyncio.StreamWriter) -> None:
        """Pass on what the browser says, until it has gone or has said nothing for long."""
        while True:
            try:
                async with asyncio.timeout(self.heard + IDLE_SECONDS - monotonic()):
                    message = await self._socket.receive()
                if message.type in _GONE:
                    return
                said = _understood(message.data) if message.type is WSMsgType.TEXT else None
                match said:
                    case ["stdin", str(keys)]:
                        self.heard = monotonic()
                        app.write(_packet(b"D", keys.encode(errors="replace")))
                    case ["resize", {"width": int(columns), "height": int(rows)}]:
                        width, height = clamped(columns, rows)
                        resize = {"type": "resize", "width": width, "height": height}
                        app.write(_packet(b"M", json.dumps(resize).encode()))
                    case ["focus" | "blur" as what, *_]:
                        app.write(_packet(b"M", json.dumps({"type": what}).encode()))
                    case ["ping", str() | int() | float() as what]:
                        async with asyncio.timeout(SLOW_SECONDS):
                            await self._socket.send_json(["pong", what])
                async with asyncio.timeout(SLOW_SECONDS):
                    await app.drain()
            except (OSError, RuntimeError, TimeoutError):
                if monotonic() - self.heard >= IDLE_SECONDS:
                    self.parting = _IDLE
                return

    async def _say_goodbye(self) -> None:
        try:
            async with asyncio.timeout(1):
                await self._socket.close(message=self.parting.encode())
        except (OSError, RuntimeError, TimeoutError):
            return  # a tablet out of reach never answers


def _ask(key: str, app: asyncio.StreamWriter) -> None:
    asked = {"type": "deliver_chunk_request", "key": key, "size": LARGEST_MESSAGE}
    app.write(_packet(b"M", json.dumps(asked).encode()))


def clamped(columns: int, rows: int) -> tuple[int, int]:
    """The nearest size of a terminal that an app can be drawn in, and at a bearable cost."""
    return (
        max(SMALLEST[0], min(columns, LARGEST[0])),
        max(SMALLEST[1], min(rows, LARGEST[1])),
    )


async def _end(process: Process) -> None:
    """End the app: asked first, and after a while without being asked."""
    assert process.stdin
    assert process.stdout
    process.stdin.close()
    # It may be painting, and would wait for somebody to read that before it hears anything.
    unheard = asyncio.create_task(_drained(process.stdout))
    try:
        async with asyncio.timeout(GRACE_SECONDS + 1):
            await process.wait()
    except TimeoutError:
        process.kill()
        await process.wait()
    finally:
        await asyncio.wait({unheard}, timeout=1)
        unheard.cancel()


async def _last_line(output: asyncio.StreamReader) -> str:
    """Read all that an app says beside its screen, and give the end of it."""
    end = b""
    while said := await output.read(LARGEST_MESSAGE):
        end = (end + said)[-LARGEST_MESSAGE:]
    lines = end.decode(errors="replace").strip().splitlines()
    return lines[-1] if lines else ""


async def _drained(output: asyncio.StreamReader) -> None:
    while await output.read(LARGEST_MESSAGE):
        pass


def _understood(text: str) -> object:
    """The list that the page sends; None for what no page of ours does."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None


def _packet(kind: bytes, payload: bytes) -> bytes:
    return kind + len(payload).to_bytes(4, "big") + payload


def _environment(columns: int, rows: int) -> dict[str, str]:
    width, height = clamped(columns, rows)
    return os.environ | {
        "TEXTUAL_FPS": "60",
        "TEXTUAL_COLOR_SYSTEM": "truecolor",
        "TERM_PROGRAM": "textual",
        "COLUMNS": str(width),
        "ROWS": str(height),
    }
