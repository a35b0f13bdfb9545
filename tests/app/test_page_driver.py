"""What the app writes to its server: packets that are whole, whichever thread they come from."""

import os
from concurrent.futures import ThreadPoolExecutor
from io import FileIO

import pytest
from textual.app import App

from workbench.app.tablet.driver import PageDriver

# Far over PIPE_BUF, the most that POSIX (write, 2018 edition) lets a pipe take in one piece.
LARGE = 1 << 18
TIMES = 20


def driver(monkeypatch: pytest.MonkeyPatch, line: int) -> PageDriver:
    monkeypatch.setattr("sys.__stdout__", FileIO(line, "w", closefd=False))
    monkeypatch.setattr("sys.__stdin__", FileIO(os.pipe()[0]))
    return PageDriver(App[None](), debug=False, mouse=True, size=(80, 24))


def packets(said: bytes) -> set[bytes]:
    """The different packets that were written one behind another."""
    found = set()
    while said:
        size = 5 + int.from_bytes(said[1:5], "big")
        found.add(said[:size])
        said = said[size:]
    return found


async def test_two_threads_write_whole_packets(monkeypatch: pytest.MonkeyPatch) -> None:
    reading, writing = os.pipe()
    page = driver(monkeypatch, writing)

    def paint(letter: str) -> None:
        for _ in range(TIMES):
            page.write(letter * LARGE)

    def read() -> bytes:
        with FileIO(reading) as line:
            return line.readall()

    with ThreadPoolExecutor() as threads:
        said = threads.submit(read)
        list(threads.map(paint, "ab"))
        os.close(page.fileno)
        assert packets(said.result()) == {
            b"D" + LARGE.to_bytes(4, "big") + letter * LARGE for letter in (b"a", b"b")
        }


async def test_nothing_is_said_to_a_server_that_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    reading, writing = os.pipe()
    page = driver(monkeypatch, writing)
    os.close(reading)
    page.write("anybody there?")
