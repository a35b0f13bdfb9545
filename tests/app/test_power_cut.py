"""The app is killed in the middle of a batch, and finds the same cut again."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

from tests.app.terminal import REPOSITORY, Terminal

SAMPLE = REPOSITORY / "sample_projects" / "one_card_from_scraps.toml"


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
        before = app.lines
        app.kill()
    with Terminal(tmp_path) as app:
        app.wait_for("Resume")
        app.press("\r")
        app.wait_for(f"step {middle + 1} of")
        app.wait_until(lambda: app.lines == before, "the very same screen")
    with closing(sqlite3.connect(tmp_path / "workshop.sqlite")) as workshop:
        assert workshop.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert workshop.execute("SELECT count(*) FROM events").fetchone() == (middle,)
