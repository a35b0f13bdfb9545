"""The app as a real process in a pseudo-terminal, read as a person reads it."""

import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from contextlib import suppress
from fcntl import ioctl
from pathlib import Path
from typing import Self

import pyte

REPOSITORY = Path(__file__).parents[2]
# Only a test that is going to fail waits this long.
PATIENCE_SECONDS = 60.0
# One painting of the screen comes in parts with less than this between them.
_QUIET = 0.01
_APP = """
import sys
from pathlib import Path
from workbench.app import app
from workbench.app.screens import run
run.BOUNCE_SECONDS = 0
app.run(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
"""


class Terminal:
    """Runs the app with `arguments`; ends it, however it goes, at the end of a `with`."""

    def __init__(
        self,
        home: Path,
        *arguments: str,
        columns: int = 80,
        rows: int = 24,
        forked: bool = False,
        through: tuple[str, ...] = (),
    ) -> None:
        """`forked`: the process starts as a copy of this one, with everything imported already.
        `through`: the command that starts it, where it is not started directly."""
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._process, self._terminal = pty.fork()
        if self._process == 0:
            os.chdir(REPOSITORY)
            os.environ.update(
                TRIMTALLY_HOME=str(home), TERM="xterm-256color", COLORTERM="truecolor"
            )
            if forked:
                _run_here(arguments)
            command = [*through, sys.executable, "-c", _APP, *arguments]
            os.execv(command[0], command)
        ioctl(self._terminal, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()

    @property
    def lines(self) -> list[str]:
        return [line.rstrip() for line in self._screen.display]

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    def press(self, keys: str) -> None:
        os.write(self._terminal, keys.encode())

    def wait_for(self, *words: str) -> None:
        """Read what the app draws until all `words` stand on the screen."""
        end = time.monotonic() + PATIENCE_SECONDS
        while missing := [each for each in words if each not in self.text]:
            if time.monotonic() > end:
                raise AssertionError(f"never saw {missing}; last seen:\n{self.text}")
            self._read()

    def painted(self, words: str) -> float:
        """Read until the app has written `words`, and all that belongs to them; gives the time of
        that by time.perf_counter. Nothing is looked at before, for that takes longer."""
        written, last = b"", time.perf_counter()
        while words.encode() not in written or select.select([self._terminal], [], [], _QUIET)[0]:
            written += os.read(self._terminal, 65536)
            last = time.perf_counter()
        self._stream.feed(written)
        return last

    @property
    def processor_seconds(self) -> float:
        """What the app has taken of a processor so far, all its threads together (Linux)."""
        threads = Path("/proc", str(self._process), "task").glob("*/schedstat")
        return sum(int(thread.read_text().split()[0]) for thread in threads) / 1e9

    def look(self, seconds: float) -> None:
        """Read what the app draws within that time."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            self._read(left)

    def _read(self, patience: float = 0.1) -> None:
        ready, _, _ = select.select([self._terminal], [], [], patience)
        if ready:
            try:
                self._stream.feed(os.read(self._terminal, 65536))
            except OSError as error:
                raise AssertionError(f"the app has ended; last seen:\n{self.text}") from error

    def end(self) -> bytes:
        """Tell it to end, as a shutdown does; gives everything that it still writes."""
        os.kill(self._process, signal.SIGTERM)
        written = b""
        with suppress(OSError):  # raised where nobody is left to write
            while part := os.read(self._terminal, 65536):
                written += part
        return written

    def kill(self) -> None:
        """End it without warning, as a power cut would; harmless when it has ended."""
        if self._process:
            os.kill(self._process, signal.SIGKILL)
            os.waitpid(self._process, 0)
            os.close(self._terminal)
            self._process = 0


def _run_here(arguments: tuple[str, ...]) -> None:
    """Run the app in this process, which does nothing else afterwards, and paints as ever."""
    from textual import constants, screen

    screen.UPDATE_PERIOD = 1 / constants.MAX_FPS  # type: ignore[misc]
    constants.TEXTUAL_ANIMATIONS = "full"  # type: ignore[misc]
    terminal = {0: "r", 1: "w", 2: "w"}
    sys.stdin, sys.stdout, sys.stderr = (
        os.fdopen(number, mode, closefd=False) for number, mode in terminal.items()
    )
    sys.__stdin__, sys.__stdout__, sys.__stderr__ = sys.stdin, sys.stdout, sys.stderr  # type: ignore[misc, assignment]
    sys.argv = ["-c", *arguments]
    try:
        exec(_APP, {"__name__": "__main__"})
    finally:
        # However it ends, this copy must not go on as the test that it is a copy of.
        os._exit(0)
