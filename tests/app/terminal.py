"""The app as a real process in a pseudo-terminal, read as a person reads it."""

import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from fcntl import ioctl
from pathlib import Path
from typing import Self

import pyte

REPOSITORY = Path(__file__).parents[2]
# Only a test that is going to fail waits this long.
PATIENCE_SECONDS = 60.0
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

    def __init__(self, home: Path, *arguments: str, columns: int = 80, rows: int = 24) -> None:
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._process, self._terminal = pty.fork()
        if self._process == 0:
            os.chdir(REPOSITORY)
            os.environ.update(
                TRIMTALLY_HOME=str(home), TERM="xterm-256color", COLORTERM="truecolor"
            )
            os.execv(sys.executable, [sys.executable, "-c", _APP, *arguments])
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

    def _read(self) -> None:
        ready, _, _ = select.select([self._terminal], [], [], 0.1)
        if ready:
            try:
                self._stream.feed(os.read(self._terminal, 65536))
            except OSError as error:
                raise AssertionError(f"the app has ended; last seen:\n{self.text}") from error

    def kill(self) -> None:
        """End it without warning, as a power cut would; harmless when it has ended."""
        if self._process:
            os.kill(self._process, signal.SIGKILL)
            os.waitpid(self._process, 0)
            os.close(self._terminal)
            self._process = 0
