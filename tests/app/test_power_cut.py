"""The app is killed in the middle of a batch, and finds the same cut again."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.app.terminal import REPOSITORY, Terminal
from tests.making.plans import HARBOUR, PLAN
from tests.permissions import bound
from workbench.making.batch import replay
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import prompt
from workbench.measure.writing import graduation_for
from workbench.store.database import Workshop

# As a shell starts what a script puts in the background.
IN_THE_BACKGROUND = ("/bin/sh", "-c", 'trap "" INT; exec "$@"', "sh")
SAMPLE = REPOSITORY / "sample_projects" / "one_card_from_scraps.toml"


def cut_at_hand(home: Path) -> list[str]:
    """What the screen has to show of the cut at hand, by what is on disk."""
    workshop = Workshop.open(home)
    (line,) = workshop.batches()
    batch = workshop.batch(line.id)
    state = replay(batch.plan, batch.events)
    said = prompt(PlanIndex(batch.project, batch.plan), state, graduation_for("in"))
    assert said and said.guide
    return [f"step {state.current} of", said.guide.where, said.following]


def test_killed_in_the_middle_of_a_sample_it_reopens_at_the_same_cut(tmp_path: Path) -> None:
    with Terminal(tmp_path, str(SAMPLE)) as app:
        app.wait_for("2 Pieces")
        app.press("3")
        app.wait_for("cuts at")
        app.press(" ")
        app.wait_for("step 1 of")
        found = re.search(r"step 1 of (\d+)", app.text)
        assert found
        middle = int(found[1]) // 2
        for ticked in range(1, middle + 1):
            app.press(" ")
            app.wait_for(f"step {ticked + 1} of")
        app.wait_for(*cut_at_hand(tmp_path))
        app.kill()
    with Terminal(tmp_path) as app:
        app.wait_for("Resume")
        app.press("\r")
        app.wait_for(f"step {middle + 1} of", *cut_at_hand(tmp_path))
    with closing(sqlite3.connect(tmp_path / "workshop.sqlite")) as workshop:
        assert workshop.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert workshop.execute("SELECT count(*) FROM events").fetchone() == (middle,)


@pytest.mark.parametrize("through", [(), IN_THE_BACKGROUND], ids=["", "in the background"])
def test_told_to_end_it_gives_the_terminal_back(tmp_path: Path, through: tuple[str, ...]) -> None:
    with Terminal(tmp_path, str(SAMPLE), through=through) as app:
        app.wait_for("2 Pieces")
        written = app.end()
    leave_the_second_page, stop_the_mouse = b"\x1b[?1049l", b"\x1b[?1000l"  # xterm's sequences
    assert leave_the_second_page in written
    assert stop_the_mouse in written


def test_in_a_read_only_folder_that_is_said_and_gone_on_from_when_mended(tmp_path: Path) -> None:
    home = tmp_path / "home"
    workshop = Workshop.open(home)
    workshop.create_batch(HARBOUR, None, PLAN)
    home.chmod(0o555)
    try:
        with Terminal(home, columns=120, through=bound()) as app:
            # Single words: where the lines break hangs on how long the path is.
            app.wait_for("cannot", "writable,", "Look again")
            home.chmod(0o755)
            app.press("\r")
            app.wait_for("Resume")
            app.press("\r")
            app.wait_for("step 1 of")
            app.press(" ")
            app.wait_for("step 2 of")
    finally:
        home.chmod(0o755)
    (line,) = workshop.batches()
    assert line.done == 1


def test_a_run_under_way_keeps_its_ticks_in_a_folder_made_read_only(tmp_path: Path) -> None:
    """What it needs to write it holds open."""
    home = tmp_path / "home"
    workshop = Workshop.open(home)
    workshop.create_batch(HARBOUR, None, PLAN)
    with Terminal(home, through=bound()) as app:
        app.wait_for("Resume")
        app.press("\r")
        app.wait_for("step 1 of")
        home.chmod(0o555)
        try:
            app.press(" ")
            app.wait_for("step 2 of")
            app.kill()
        finally:
            home.chmod(0o755)
    (line,) = workshop.batches()
    assert line.done == 1
