"""Whatever is done to stock and batches, in one window or two, and killed in the middle or not:

bought = on hand + reserved + used + thrown away, and every batch holds just what it should by where
it stands. What it should is told twice: by the audit, and by hand for batches without slips.
"""

import json
import subprocess
import sys
from collections import Counter
from os import environ
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from tests.store.drawing import DEEDS, OPENS, act, drawn, stocked
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer

REPOSITORY = Path(__file__).parents[2]
EXAMPLES = int(environ.get("MACHINES", "12"))
AT_THE_BENCH = ("begin", "tick", "tick", "tick through", "tick through", "take back", "slip")
WHAT = st.sampled_from(DEEDS + AT_THE_BENCH)
WHICH, CHOICE = st.integers(0, 9), st.integers(0, 99)


class StockMachine(RuleBasedStateMachine):
    """Everything is done in this window."""

    def __init__(self) -> None:
        super().__init__()
        self._home = TemporaryDirectory()
        self.workshop = Workshop.open(Path(self._home.name))
        self.drawer = Drawer(self.workshop)
        self.slipped = False

    def teardown(self) -> None:
        self._home.cleanup()

    @initialize(sheets=st.integers(1, 4))
    def fill(self, sheets: int) -> None:
        stocked(self.drawer, sheets)

    @rule(
        what=st.sampled_from(DEEDS + AT_THE_BENCH),
        which=st.integers(0, 9),
        choice=st.integers(0, 99),
    )
    def do(self, what: str, which: int, choice: int) -> None:
        before = self.drawer.listing(), self.workshop.batches()
        said = self.deed(what, which, choice)
        if said.startswith("refused"):
            assert (self.drawer.listing(), self.workshop.batches()) == before
        self.slipped |= what in ("slip", "remove batch")

    def deed(self, what: str, which: int, choice: int) -> str:
        return act(self.workshop, what, which, choice)

    @invariant()
    def sums_agree(self) -> None:
        assert self.drawer.audit() == ()

    @invariant()
    def batches_hold_what_their_plan_says(self) -> None:
        if self.slipped:
            return
        with self.workshop.reading() as connection:
            rows = connection.execute(
                "SELECT name, sum(moved.reserved), sum(moved.used) FROM movements AS moved "
                "JOIN lots ON lots.id = lot JOIN papers ON papers.id = paper "
                "WHERE batch IS NOT NULL AND size = '' GROUP BY name"
            ).fetchall()
        found: Counter[tuple[str, str]] = Counter()
        for name, reserved, used in rows:
            found[name, "reserved"], found[name, "used"] = reserved, used
        assert +found == drawn(self.workshop)
        assert {name for name, _ in found} <= set(OPENS)


class TwoWindows(StockMachine):
    """What is done is done in this window or another, which may be killed while it does it."""

    def __init__(self) -> None:
        super().__init__()
        self.other = self._opened()

    def teardown(self) -> None:
        self.other.kill()
        self.other.communicate()
        super().teardown()

    @rule(
        what=st.sampled_from(DEEDS + AT_THE_BENCH),
        which=st.integers(0, 9),
        choice=st.integers(0, 99),
    )
    def do_elsewhere(self, what: str, which: int, choice: int) -> None:
        self._tell(what, which, choice)
        assert self.other.stdout
        assert self.other.stdout.readline().strip()
        self.slipped |= what in ("slip", "remove batch")

    @rule(what=WHAT, which=WHICH, choice=CHOICE, moment=st.floats(0, 0.02))
    def kill(self, what: str, which: int, choice: int, moment: float) -> None:
        self._tell(what, which, choice)
        with pytest.raises(subprocess.TimeoutExpired):
            self.other.wait(moment)
        self.other.kill()
        self.other.communicate()
        self.other = self._opened()
        self.slipped |= what in ("slip", "remove batch")

    def _tell(self, *deed: object) -> None:
        assert self.other.stdin
        self.other.stdin.write(json.dumps([str(self.workshop.folder), *deed]) + "\n")
        self.other.stdin.flush()

    def _opened(self) -> "subprocess.Popen[str]":
        return subprocess.Popen(
            [sys.executable, "-m", "tests.store.drawing"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=REPOSITORY,
        )


OneWindowTest = StockMachine.TestCase
OneWindowTest.settings = settings(max_examples=EXAMPLES, stateful_step_count=30, deadline=None)
TwoWindowsTest = TwoWindows.TestCase
TwoWindowsTest.settings = settings(
    max_examples=max(2, EXAMPLES // 2), stateful_step_count=20, deadline=None
)
