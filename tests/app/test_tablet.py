"""Who may come in when the app is served, and how serving begins and ends."""

import re
import signal
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from aiohttp import ClientSession, WSServerHandshakeError
from aiohttp.test_utils import TestClient, TestServer

from tests.app.serving import address, served
from workbench.app.tablet.guard import new_word
from workbench.app.tablet.server import AddressError, is_private, listen, web_application, where

ASSETS = ("/page/page.js", "/static/js/textual.js", "/static/css/xterm.css")
WORD = "abcd-efgh-jkmn"


@asynccontextmanager
async def visiting(word: str | None) -> AsyncIterator[TestClient]:  # type: ignore[type-arg]
    async with TestClient(TestServer(web_application(word, None))) as client:
        yield client


def apps_of(home: Path) -> list[int]:
    """The processes that show the app in a browser, of the workshop at `home`."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            started = (folder / "environ").read_bytes()
            line = (folder / "cmdline").read_bytes()
        except OSError:  # it has ended since
            continue
        if f"TRIMTALLY_HOME={home}".encode() in started and b"workbench.app.tablet" in line:
            found.append(int(folder.name))
    return found


async def test_without_a_word_all_come_in() -> None:
    async with visiting(None) as client:
        for path in ("/", *ASSETS):
            answer = await client.get(path)
            assert answer.status == 200
            assert "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"]
        assert (await client.get("/static/")).status == 403
        assert (await client.get("/ws")).status == 400


async def test_nothing_on_the_page_comes_from_elsewhere() -> None:
    """It must work where there is no network but the one between tablet and table."""
    async with visiting(None) as client:
        for path in ("/", "/page/page.css", "/page/page.js"):
            assert "//" not in re.sub(
                r"// .*|\$\{scheme\}://", "", await (await client.get(path)).text()
            )


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8000", "127.0.0.1.evil.example", "", "["]
)
async def test_a_name_that_was_pointed_here_is_refused(host: str) -> None:
    async with visiting(None) as client:
        for path in ("/", *ASSETS, "/ws"):
            assert (await client.get(path, headers={"Host": host})).status in (400, 403)


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "http://127.0.0.1:1", "null", "http://[", "", None]
)
async def test_no_page_of_another_origin_opens_the_app(origin: str | None) -> None:
    async with visiting(None) as client:
        with pytest.raises(WSServerHandshakeError) as refusal:
            await client.ws_connect("/ws", origin=origin)
        assert refusal.value.status == 403


async def test_without_the_word_everything_is_refused() -> None:
    async with visiting(WORD) as client:
        for path in ("/", *ASSETS, "/static/", "/nothing"):
            assert (await client.get(path)).status == 401
        for wrong in ("", "abcd", WORD[:-1], WORD + "x"):
            answer = await client.post("/", data={"word": wrong}, allow_redirects=False)
            assert answer.status == 401
            assert "Set-Cookie" not in answer.headers
        with pytest.raises(WSServerHandshakeError) as refusal:
            await client.ws_connect("/ws", origin=str(client.make_url("")).rstrip("/"))
        assert refusal.value.status == 401


@pytest.mark.parametrize("typed", [WORD, "ABCD EFGH JKMN", " abcdefghjkmn "])
async def test_the_word_is_asked_for_once_and_is_in_no_address_or_cookie(typed: str) -> None:
    async with visiting(WORD) as client:
        entered = await client.post("/", data={"word": typed}, allow_redirects=False)
        assert (entered.status, entered.headers["Location"]) == (303, "/")
        kept = entered.headers["Set-Cookie"]
        assert "HttpOnly" in kept
        assert "SameSite=Strict" in kept
        assert WORD not in kept
        secret = kept.split(";")[0]
        client.session.cookie_jar.clear()
        assert (await client.get("/", headers={"Cookie": secret})).status == 200
        for wrong in (secret[:-1], f"{secret}\u00e9", secret.split("=")[0]):
            assert (await client.get("/", headers={"Cookie": wrong})).status == 401


@pytest.mark.parametrize(
    ("kind", "sent"),
    [
        ("application/x-www-form-urlencoded; charset=no-such", b"word=abcd"),
        ("application/x-www-form-urlencoded", b"word=\xff"),
        ("multipart/form-data", b""),
        ("multipart/form-data; boundary=x", b"no boundary"),
    ],
)
async def test_a_form_that_no_browser_sends_holds_no_word(kind: str, sent: bytes) -> None:
    async with visiting(WORD) as client:
        answer = await client.post("/", data=sent, headers={"Content-Type": kind})
        assert answer.status == 401
        assert "That is not the word" in await answer.text()


def test_words_are_not_used_twice_and_long_enough() -> None:
    words = {new_word() for _ in range(100)}
    assert len(words) == 100
    assert all(re.fullmatch(r"[a-z2-9]{4}(-[a-z2-9]{4}){2}", word) for word in words)


def test_only_the_loopback_address_is_private() -> None:
    for place, private in (("127.0.0.1", True), ("localhost", True), ("0.0.0.0", False)):
        with closing(listen(place, 0)) as listener:
            assert is_private(listener) is private
            assert re.fullmatch(r"http://[0-9.:\[\]]+:\d+", where(listener))


def test_an_address_that_cannot_be_served_is_refused_in_words() -> None:
    with closing(listen("127.0.0.1", 0)) as listener:
        port = listener.getsockname()[1]
        with pytest.raises(AddressError, match=rf"port {port} is taken .* --port"):
            listen("127.0.0.1", port)
    # Kept for documentation (RFC 5737): no machine has it.
    with pytest.raises(AddressError, match=r"192\.0\.2\.7 is not an address of this machine"):
        listen("192.0.2.7", 0)
    # Names that are none at all: a label has 1 to 63 letters (RFC 1035, 2.3.4).
    for place in ("no such place", "a..b", "a" * 64):
        with pytest.raises(AddressError, match="there is no address"):
            listen(place, 0)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["nothing.toml"], "nothing.toml"),
        (["--port", "99999"], "too large; give 65535 at most"),
        (["--port", "eight"], "not a whole number"),
        (["--address", "192.0.2.7"], "not an address of this machine"),
    ],
)
def test_bad_input_is_one_line(words: list[str], said: str, tmp_path: Path) -> None:
    with served(*words, home=tmp_path) as process:
        assert process.wait(timeout=60) == 2
        _, errors = process.communicate()
        assert said in errors
        assert errors.count("\n") == 1


def test_another_address_is_warned_about_and_gets_a_word(tmp_path: Path) -> None:
    with served("--address", "0.0.0.0", home=tmp_path, word=True) as process:
        assert process.stdout
        url = address(process)
        assert re.search(r": [a-z2-9-]{14}$", process.stdout.readline())
        with pytest.raises(HTTPError, match="401"):
            urlopen(url)
        process.send_signal(signal.SIGINT)
        _, errors = process.communicate(timeout=60)
    assert "everyone in the same network can reach" in errors
    assert process.returncode == 130


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="this system has no /proc")
@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGKILL])
async def test_no_app_outlives_the_server(tmp_path: Path, ending: signal.Signals) -> None:
    with served(home=tmp_path) as process:
        url = address(process)
        async with ClientSession() as visitor, visitor.ws_connect(f"{url}/ws", origin=url) as line:
            read = b""
            while b"Trimtally" not in read:
                read += await line.receive_bytes(timeout=30)
            assert len(apps_of(tmp_path)) == 1
            process.send_signal(ending)
            process.wait(timeout=60)
        end = time.monotonic() + 30
        while apps_of(tmp_path) and time.monotonic() < end:
            time.sleep(0.05)
        assert apps_of(tmp_path) == []
