"""Whole batches at a real terminal, the power cut at random moments: no tick lost, none doubled.

By hand, with figures: KILLS=300 pytest tests/app/test_power_cuts.py -s
"""

import random
import re
import sqlite3
import time
from contextlib import closing
from os import environ
from pathlib import Path

from tests.app.terminal import Terminal
from tests.samples import plan_of, project_of
from workbench.making.batch import replay
from workbench.store.database import Workshop

KILLS = int(environ.get("KILLS", "4"))
SAMPLE = "regatta_thanks"


def step_shown(app: Terminal) -> int:
    """The step that the screen shows; past the last one when all is finished."""
    found = re.search(r"step (\d+) of", app.text)
    return int(found[1]) if found else 0


def driven(app: Terminal, chance: random.Random) -> tuple[int, int]:
    """Tick at random until a random moment, then cut the power: presses made, last step shown."""
    app.wait_for("Resume")
    app.press("\r")
    app.wait_for("step ")
    pressed, end = 0, time.monotonic() + chance.uniform(0, 1.5)
    while time.monotonic() < end:
        if "all" in app.text and "steps done" in app.text:
            break
        app.press(chance.choice((" ", "\r")))
        pressed += 1
        app.look(chance.uniform(0, 0.1))
    shown = step_shown(app)
    app.kill()
    return pressed, shown


def test_no_tick_is_lost_or_doubled_whenever_the_power_goes(tmp_path: Path) -> None:
    chance = random.Random(4)
    project, plan = project_of(SAMPLE), plan_of(SAMPLE)
    workshop = Workshop.open(tmp_path)
    batches, reopened = 0, []
    batch_id, done = 0, len(plan.steps)
    for _ in range(KILLS):
        if done == len(plan.steps):
            batch_id, done = workshop.create_batch(project, None, plan), 0
            batches += 1
        with Terminal(tmp_path, forked=True) as app:
            pressed, shown = driven(app, chance)
        begun = time.monotonic()
        batch = workshop.batch(batch_id)
        reopened.append(time.monotonic() - begun)
        state = replay(batch.plan, batch.events)
        # Each event took effect: none stands there twice, and none is out of turn.
        assert [event.step for event in batch.events] == list(range(1, state.done + 1))
        assert state.done >= shown - 1
        assert done <= state.done <= done + pressed
        done = state.done
        with closing(sqlite3.connect(workshop.file)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    slowest = max(reopened)
    print(f"{KILLS} power cuts in {batches} batches; slowest batch read again {slowest:.3f} s")
