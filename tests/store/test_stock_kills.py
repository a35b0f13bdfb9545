"""The power cut while batches draw on the drawer: the sums agree after each.

By hand, with figures: KILLS=300 pytest tests/store/test_stock_kills.py -s
"""

import random
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from os import environ
from pathlib import Path

from tests.store.drawing import stocked
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer

KILLS = int(environ.get("KILLS", "6"))
REPOSITORY = Path(__file__).parents[2]


def drawn_until_killed(workshop: Workshop, seed: int, moment: float) -> int:
    """Let another process draw on the drawer, and kill it: how much it had done, as far as told."""
    command = [sys.executable, "-m", "tests.store.drawing_without_end"]
    with subprocess.Popen(
        [*command, str(workshop.folder), str(seed)],
        stdout=subprocess.PIPE,
        text=True,
        cwd=REPOSITORY,
    ) as drawing:
        assert drawing.stdout
        drawing.stdout.readline()
        time.sleep(moment)
        drawing.kill()
        return 1 + len(drawing.stdout.read().split("\n")[:-1])


def test_the_sums_agree_after_every_power_cut(tmp_path: Path) -> None:
    chance, done, batches = random.Random(14), 0, 0
    for number in range(KILLS):
        if number % 10 == 0:  # a drawer of its own, so that no batch is long past its end
            workshop = Workshop.open(tmp_path / str(number))
            drawer = Drawer(workshop)
            stocked(drawer, 4)
        done += drawn_until_killed(workshop, number, chance.uniform(0, 0.4))
        assert drawer.audit() == ()
        with closing(sqlite3.connect(workshop.file)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        batches = max(batches, len(workshop.batches()))
    print(f"{KILLS} power cuts, {done} deeds; most batches in one drawer {batches}")
    assert done >= KILLS
