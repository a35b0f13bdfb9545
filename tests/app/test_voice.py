"""The voice is a command of the machine, given its words on standard input."""

import sys
import time
from pathlib import Path

import pytest

from workbench.app.voice import Voice, voice_of_this_machine


def test_words_arrive_as_they_are_and_are_never_taken_for_options(tmp_path: Path) -> None:
    heard = tmp_path / "heard"
    listen = f"import sys, pathlib; pathlib.Path({str(heard)!r}).write_text(sys.stdin.read())"
    Voice((sys.executable, "-c", listen)).say("--help; $(rm) set the guide to 3")
    for _ in range(600):
        if heard.exists() and heard.read_text():
            break
        time.sleep(0.05)
    assert heard.read_text() == "--help; $(rm) set the guide to 3\n"


def test_a_voice_that_cannot_speak_stays_silent() -> None:
    Voice(("/nowhere/voice",)).say("set the guide")


def test_the_first_command_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda name: f"/bin/{name}" if name == "say" else None)
    assert voice_of_this_machine() == Voice(("/bin/say", "-f", "-"))
    monkeypatch.setattr("shutil.which", lambda _: None)
    assert voice_of_this_machine() is None
