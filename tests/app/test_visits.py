"""Browsers that drop, stay, flood or ask for what cannot be: none leaves a process or a fault."""

import asyncio
import json
import logging
import re
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from pathlib import Path

import pytest
from aiohttp import (
    ClientSession,
    ClientWebSocketResponse,
    WSMsgType,
    WSServerHandshakeError,
    web,
)
from aiohttp.test_utils import TestClient

from tests.app.serving import address, served
from tests.app.test_tablet import WORD, apps_of, visiting
from workbench.app.tablet import connections, guard, server, visit, visits
from workbench.app.tablet.connections import Connections
from workbench.app.tablet.server import _Few, _OneLine, web_application
from workbench.app.tablet.visit import clamped

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/environ").exists(), reason="this system has no /proc"
)
Client = TestClient[web.Request, web.Application]
DROPS = 3


@asynccontextmanager
async def opened(client: Client, size: str = "") -> AsyncIterator[ClientWebSocketResponse]:
    """A websocket on which the app has begun to paint."""
    origin = str(client.make_url("")).rstrip("/")
    async with client.ws_connect(f"/ws{size}", origin=origin) as line:
        read = b""
        while b"Trimtally" not in read:
            read += await line.receive_bytes(timeout=60)
        yield line


async def eventually(there: Callable[[], object]) -> None:
    async with asyncio.timeout(60):
        while not there():
            await asyncio.sleep(0.05)


def drop(line: ClientWebSocketResponse) -> None:
    """As a tablet does that is switched off: it says nothing, and takes nothing any more."""
    transport = line._response.connection and line._response.connection.transport
    assert isinstance(transport, asyncio.Transport)
    transport.abort()


async def parting(line: ClientWebSocketResponse) -> str:
    """What the server says last."""
    async with asyncio.timeout(60):
        while (message := await line.receive()).type is not WSMsgType.CLOSE:
            pass
    return str(message.extra)


FAILING = """
import os
os.environ["TEXTUAL_DRIVER"] = "workbench.app.tablet.driver:PageDriver"
from workbench.app import app
app.TrimtallyApp.on_mount = lambda self: self.call_later(lambda: 1 // 0)
raise SystemExit(app.run())
"""


@pytest.mark.parametrize(
    ("app", "said"),
    [
        (FAILING, "trimtally serve: this is a fault of the program, not yours .*/crash-.*[.]txt"),
        ("print('__GANGLION__')", "trimtally serve: an app in the browser ended of itself; .*"),
        *(
            (f"print({said!r}, end='')", "trimtally serve: .* was not understood; .*")
            for said in (
                "__GANGLION__\nM\0\0\0\4{no}",
                "__GANGLION__\nM\0\0\0\2[]",
                "__GANGLION__\nP\0\0\0\1x",
                '__GANGLION__\nM\0\0\0\x1d{"type":"deliver_file_start"}',
            )
        ),
    ],
)
async def test_how_an_app_failed_is_told_on_the_page_and_in_the_terminal(
    app: str, said: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(server, "_command", lambda _: (sys.executable, "-c", app))
    async with visiting(None) as client:
        origin = str(client.make_url("")).rstrip("/")
        async with client.ws_connect("/ws", origin=origin) as line:
            assert "not you" in await parting(line)
    (record,) = caplog.records
    assert re.fullmatch(said, _OneLine().format(record))


async def test_a_browser_that_drops_while_the_app_paints_leaves_no_process(
    workshop_folder: Path,
) -> None:
    async with visiting(None) as client:
        for _ in range(DROPS):
            async with opened(client) as line:
                for columns in range(80, 180):
                    await line.send_str(json.dumps(["resize", {"width": columns, "height": 60}]))
                drop(line)
        await eventually(lambda: apps_of(workshop_folder) == [])


async def test_an_app_that_hears_nothing_is_ended(
    workshop_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(visit, "GRACE_SECONDS", 0.1)
    async with visiting(None) as client, opened(client) as line:
        (app,) = apps_of(workshop_folder)
        stopped = await asyncio.create_subprocess_exec("kill", "-STOP", str(app))
        await stopped.wait()
        drop(line)
        await eventually(lambda: apps_of(workshop_folder) == [])


async def test_an_idle_browser_is_told_goodbye(
    workshop_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with visiting(None) as client, opened(client) as line:
        monkeypatch.setattr(visit, "IDLE_SECONDS", 0.0)
        await line.send_str('["ping", 7]')  # nothing that the maker has done
        assert await parting(line) == "No key was pressed for hours."
        await eventually(lambda: apps_of(workshop_folder) == [])


NO_PAGE_SAYS = (
    "[" * 60_000,
    "{}",
    "no JSON",
    '["resize", {"width": "x"}]',
    '["resize", {"width": 1e999, "height": []}]',
    '["resize", {"width": 1000000, "height": -5}]',
    '["stdin", 5]',
    '["stdin", "\\ud800"]',
    '["ping", {}]',
    "[]",
    "null",
)


async def test_what_no_page_says_harms_nothing() -> None:
    async with visiting(None) as client, opened(client, "?width=999999&height=x") as line:
        for number, said in enumerate(NO_PAGE_SAYS):
            await line.send_str(said)
            await line.send_str(f'["ping", {number}]')
            async with asyncio.timeout(60):
                while (message := await line.receive()).type.name == "BINARY":
                    pass
            assert message.data == f'["pong", {number}]', said


@pytest.mark.parametrize(
    ("asked", "given"),
    [
        ((80, 24), (80, 24)),
        ((10**9, 10**9), (400, 200)),
        ((0, -1), (20, 8)),
        ((19, 201), (20, 200)),
    ],
)
def test_sizes_of_terminals_are_clamped(asked: tuple[int, int], given: tuple[int, int]) -> None:
    assert clamped(*asked) == given


async def test_so_many_and_no_more_and_the_oldest_idle_one_gives_way(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(visits, "MOST_VISITS", 1)
    async with visiting(None) as client, opened(client) as line:
        with pytest.raises(WSServerHandshakeError) as refusal:
            async with opened(client):
                raise AssertionError
        assert refusal.value.status == 503
        told = await client.get("/")
        assert told.status == 503
        assert "1 browsers show Trimtally already" in await told.text()
        busy = await client.post("/take", allow_redirects=False)
        assert "used just now" in await busy.text()
        monkeypatch.setattr(visits, "SETTLED_SECONDS", 0.0)
        taken = await client.post("/take", allow_redirects=False)
        assert (taken.status, taken.headers["Location"]) == (303, "/")
        assert await parting(line) == "Another browser took over."
        async with opened(client):
            assert (await client.get("/")).status == 503


async def test_after_ten_wrong_words_the_door_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [0.0]
    monkeypatch.setattr(guard, "monotonic", lambda: now[0])
    async with visiting(WORD) as client:

        async def tried(word: str) -> int:
            answer = await client.post("/", data={"word": word}, allow_redirects=False)
            return answer.status

        assert [await tried("wrong") for _ in range(10)] == [401] * 10
        assert await tried(WORD) == 429
        assert (await client.get("/")).status == 401
        now[0] = 61.0
        assert await tried(WORD) == 303


@pytest.mark.parametrize("word", [None, WORD])
@pytest.mark.parametrize(
    ("path", "headers", "sent"),
    [
        (f"/static/{'a' * 7000}", {}, None),
        (f"/{'a' * 7000}", {}, None),
        ("/static/" + "a/" * 3000, {}, None),
        ("/static/%00", {}, None),
        ("/page/..%2f..%2fserver.py", {}, None),
        ("/", {"Content-Encoding": "gzip"}, b"word=abcd"),
        ("/", {"Content-Encoding": "br"}, b"word=abcd"),
        ("/take", {"Content-Encoding": "gzip"}, b"no gzip"),
        ("/", {"Cookie": "trimtally-80=" + "x" * 6000}, None),
        ("/ws", {"Upgrade": "websocket", "Connection": "upgrade"}, None),
        ("/ws?width=" + "9" * 5000, {}, None),
    ],
)
async def test_no_request_is_a_fault(
    word: str | None, path: str, headers: dict[str, str], sent: bytes | None
) -> None:
    async with visiting(word) as client:
        form = {"Content-Type": "application/x-www-form-urlencoded"} if sent else {}
        answer = await client.request(
            "POST" if sent else "GET", path, headers=headers | form, data=sent
        )
        assert 300 <= answer.status < 500 or answer.status == 200


def test_what_is_logged_is_short_and_seldom() -> None:
    record = logging.LogRecord("it", logging.ERROR, "", 0, "x\n" * 10_000, None, None)
    assert len(_OneLine().format(record)) <= 300
    few = _Few()
    assert sum(few.filter(record) for _ in range(1000)) == 20
    record.created += 61
    assert few.filter(record)


async def test_connections_that_ask_for_nothing_are_closed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(connections, "PATIENCE_SECONDS", 0.2)
    monkeypatch.setattr(connections, "_SWEEP_SECONDS", 0.05)
    monkeypatch.setattr(connections, "MOST_CONNECTIONS", 2)
    watched = Connections()
    runner = web.AppRunner(web_application(None, None, watched))
    await runner.setup()
    assert runner.server
    loop = asyncio.get_running_loop()
    server = await loop.create_server(watched.watching(runner.server), "127.0.0.1", 0)
    sweeping = asyncio.create_task(watched.sweep())
    place = server.sockets[0].getsockname()
    try:
        async with asyncio.timeout(30):
            lines = [await asyncio.open_connection(*place) for _ in range(3)]
            lines[0][1].write(b"GET / HTTP/1.1\r\nHost: ")
            for reader, writer in lines:
                with suppress(ConnectionResetError):
                    assert await reader.read() == b""
                writer.close()
            async with (
                ClientSession() as visitor,
                visitor.get(f"http://127.0.0.1:{place[1]}/") as page,
            ):
                assert page.status == 200
    finally:
        sweeping.cancel()
        server.close()
        await runner.cleanup()


async def test_the_word_is_asked_for_on_this_machine_too(tmp_path: Path) -> None:
    """Whoever else uses it could reach the page as well."""
    with served(home=tmp_path, word=True) as process:
        url = address(process)
        assert process.stdout
        assert "The access word" in process.stdout.readline()
        async with ClientSession() as visitor, visitor.get(url) as answer:
            assert answer.status == 401
    with served("--address", "0.0.0.0", home=tmp_path) as process:
        _, errors = process.communicate(timeout=60)
        assert process.returncode == 2
        assert "--no-word is for this machine alone" in errors
