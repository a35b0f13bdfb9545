"""Ctrl-C at any moment ends a command without a word, with the code that a shell gives."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

SAMPLE = Path(__file__).parents[1] / "sample_projects" / "winter_fair_lanterns.toml"
# From the first of our own lines on: what Python itself says before them is not ours to keep.
_BEGUN = """
import sys
print("begun", flush=True)
from workbench.__main__ import main
sys.exit(main())
"""
MOMENTS = [0.0, 0.002, 0.01, 0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.45]

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no such signals there")


@pytest.mark.parametrize(
    "words", [["plan", str(SAMPLE)], ["check", str(SAMPLE)], ["serve", "--port", "0"]]
)
def test_an_interrupted_command_says_nothing(words: list[str], tmp_path: Path) -> None:
    for moment in MOMENTS:
        process = subprocess.Popen(
            [sys.executable, "-c", _BEGUN, *words],
            env={**os.environ, "TRIMTALLY_HOME": str(tmp_path)},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        assert process.stdout
        assert process.stdout.readline() == "begun\n"
        time.sleep(0.01 + moment)  # our first line comes right after that of the test
        process.send_signal(signal.SIGINT)
        out, errors = process.communicate(timeout=60)
        assert errors == ""
        assert not re.search("Traceback|Interrupt", out)
        assert process.returncode in (130, 0)  # 0: it was quicker
        assert process.returncode == 130 or words[0] != "serve"
