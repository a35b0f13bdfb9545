"""How long Trimtally takes to its first paint, against a bare Textual app.

    python -m tests.benchmarks.first_paint [TIMES]

The workshop is one that was opened before and holds nothing yet.

Each app starts in a process of its own, turn by turn, compiled as an installed one is; the medians
of processor seconds are printed, which do not count what else the machine does.
"""

import compileall
import os
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import workbench
from workbench.store.database import Workshop

_BARE = """
from textual.app import App
from textual.widgets import Footer, Static

class Bare(App):
    def compose(self):
        yield Static("bare")
        yield Footer()

app = Bare()
"""
_OURS = """
from workbench.app.app import TrimtallyApp

app = TrimtallyApp()
"""
_TIMED = """
import time
begun = time.process_time()
{app}
async def leave(pilot):
    app.call_after_refresh(app.exit)

app.run(headless=True, auto_pilot=leave)
print(time.process_time() - begun)
"""


def seconds(app: str, home: str) -> float:
    code = _TIMED.format(app=app.strip())
    words, env = [sys.executable, "-c", code], os.environ | {"TRIMTALLY_HOME": home}
    done = subprocess.run(words, capture_output=True, text=True, check=True, env=env)
    return float(done.stdout.split()[-1])


def main(times: int) -> None:
    compileall.compile_dir(Path(workbench.__file__).parent, quiet=1)
    with TemporaryDirectory() as home:
        Workshop.open(Path(home)).batches()
        taken = [(seconds(_BARE, home), seconds(_OURS, home)) for _ in range(times)]
    bare, ours = (statistics.median(column) for column in zip(*taken, strict=True))
    print(f"bare {bare:.3f} s, Trimtally {ours:.3f} s, {ours / bare:.2f} times")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
