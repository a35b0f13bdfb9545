"""`trimtally serve` as a real process."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_SERVE = "import sys; from workbench.cli import main; sys.exit(main(['serve', *sys.argv[1:]]))"


@contextmanager
def served(*words: str, home: Path, word: bool = False) -> Iterator[subprocess.Popen[str]]:
    """`word`: whether it asks for one."""
    process = subprocess.Popen(
        [sys.executable, "-c", _SERVE, "--port", "0", *([] if word else ["--no-word"]), *words],
        env={**os.environ, "TRIMTALLY_HOME": str(home)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def address(process: subprocess.Popen[str]) -> str:
    assert process.stdout
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found
    return found[0]
