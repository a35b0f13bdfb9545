"""The line between the app and the server that shows it."""

import os
from contextlib import suppress
from functools import partial
from threading import Lock, Timer
from typing import Any

from textual.drivers.web_driver import WebDriver
from textual.events import AppFocus
from textual.messages import ExitApp

from workbench.app.tablet import GRACE_SECONDS


class PageDriver(WebDriver):
    """Has the keys from the start, and ends the app when the line breaks."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        # What is painted and what is handed over are written by two threads, and a pipe takes
        # more than a page (PIPE_BUF of POSIX) in parts: between them the other would come.
        self._write = partial(_write_whole, self.fileno, Lock())

    def start_application_mode(self) -> None:
        super().start_application_mode()
        # A page is told that it is out of sight at first; but it was opened to be seen, and may
        # have said so before that.
        self._app.call_later(self._app.post_message, AppFocus())

    def run_input_thread(self) -> None:
        super().run_input_thread()
        # With the server gone, nobody could ever end it; nor may it wait for what never ends.
        last = Timer(GRACE_SECONDS, os._exit, (1,))
        last.daemon = True
        last.start()
        self._app.post_message(ExitApp())


def _write_whole(line: int, turn: Lock, packet: bytes) -> int:
    """Write a packet with no other inside it, unless the server is gone."""
    rest = memoryview(packet)
    with turn, suppress(BrokenPipeError):
        while rest:
            rest = rest[os.write(line, rest) :]
    return len(packet)
