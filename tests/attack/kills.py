"""Power cuts by chance: what was said to be kept is there, and nothing is there by half."""

import os
import signal
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from random import Random

from tests.app.terminal import Terminal
from tests.app.test_power_cuts import SAMPLE, driven
from tests.making.plans import HARBOUR
from tests.samples import plan_of, project_of
from workbench.craft.stock import StockPaper
from workbench.making.batch import replay
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.migrations import MIGRATIONS, migrate
from workbench.store.project_file import read_project, write_project


def killed(work: Callable[[Callable[[int], object]], object], seconds: float) -> int:
    """Have another process do `work` and kill it after so long; the last number that it said."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            os.close(reading)
            work(lambda number: os.write(writing, number.to_bytes(4, "big")))
        finally:
            os._exit(0)
    os.close(writing)
    time.sleep(seconds)
    os.kill(process, signal.SIGKILL)
    os.waitpid(process, 0)
    with os.fdopen(reading, "rb") as said:
        numbers = said.read()
    whole = len(numbers) // 4 * 4
    return int.from_bytes(numbers[whole - 4 : whole], "big") if whole else 0


def sound(workshop: Workshop) -> None:
    """SQLite finds nothing wrong with the file."""
    with closing(sqlite3.connect(workshop.file)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def at_the_bench(chance: Random, folder: Path) -> None:
    """No tick is lost or doubled."""
    project, plan = project_of(SAMPLE), plan_of(SAMPLE)
    workshop = Workshop.open(folder / "home")
    batch_id = workshop.create_batch(project, None, plan)
    with Terminal(folder / "home", forked=True) as app:
        pressed, shown = driven(app, chance)
    batch = workshop.batch(batch_id)
    state = replay(batch.plan, batch.events)
    assert [event.step for event in batch.events] == list(range(1, state.done + 1))
    assert shown - 1 <= state.done <= pressed
    sound(workshop)


def while_saving(chance: Random, folder: Path) -> None:
    """A project file holds the last project that was said to be saved, or the next one."""
    path = folder / "card.toml"
    write_project(path, replace(HARBOUR, title="0"))
    path.chmod(0o600)

    def work(say: Callable[[int], object]) -> None:
        for number in range(1, 10_000):
            write_project(path, replace(HARBOUR, title=str(number)))
            say(number)

    said = killed(work, chance.uniform(0, 0.08))
    assert int(read_project(path).title) in (said, said + 1)
    assert path.stat().st_mode & 0o777 == 0o600
    write_project(path, HARBOUR)
    assert [other.name for other in folder.iterdir() if other.is_file()] == [path.name]


def while_migrating(chance: Random, folder: Path) -> None:
    """An older workshop is as it was, or up to date; then it can be used."""
    workshop = Workshop.open(folder / "home")
    workshop.folder.mkdir()
    with closing(sqlite3.connect(workshop.file, isolation_level=None)) as connection:
        migrate(connection, MIGRATIONS[: chance.randint(1, len(MIGRATIONS))])
        connection.execute("INSERT INTO settings VALUES ('units', '\"mm\"')")
    killed(lambda _: workshop.preferences(), chance.uniform(0, 0.04))
    assert workshop.preference("units") == "mm"
    with closing(sqlite3.connect(workshop.file)) as connection:
        rows = connection.execute("SELECT name FROM migrations ORDER BY rowid")
        assert [name for (name,) in rows] == [migration.name for migration in MIGRATIONS]
    sound(workshop)


def in_the_drawer(chance: Random, folder: Path) -> None:
    """The sums agree, and each sheet that was said to have come in is there."""
    workshop = Workshop.open(folder / "home")
    drawer = Drawer(workshop)
    paper_id = drawer.add(StockPaper(replace(HARBOUR.papers[0], sheets=1)))

    def work(say: Callable[[int], object]) -> None:
        for number in range(1, 10_000):
            drawer.buy(paper_id, 1)
            say(number)

    said = killed(work, chance.uniform(0, 0.08))
    assert drawer.paper(paper_id).counts.bought in (said + 1, said + 2)
    assert drawer.audit() == ()
    sound(workshop)
