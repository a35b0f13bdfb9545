"""A fault of the program ends the app with one line and a report, never with a traceback."""

import time

import pytest

from tests.app.terminal import PATIENCE_SECONDS
from workbench.app.app import TrimtallyApp
from workbench.store.database import Workshop


def broken() -> None:
    raise ZeroDivisionError("nine cards")


@pytest.mark.parametrize("in_thread", [False, True])
async def test_a_fault_leaves_one_line_and_a_report(
    capsys: pytest.CaptureFixture[str], in_thread: bool
) -> None:
    app = TrimtallyApp()
    with pytest.raises(BaseException, match="nine cards"):
        async with app.run_test() as pilot:
            if in_thread:
                app.run_worker(broken, thread=True)
            else:
                app.call_later(broken)
            end = time.monotonic() + PATIENCE_SECONDS
            while app.return_code is None and time.monotonic() < end:
                await pilot.pause(0.01)
    said = "".join(capsys.readouterr())
    assert "fault of the program" in said
    assert "Traceback" not in said
    assert len(said.splitlines()) == 1
    assert app.return_code == 1
    (report,) = Workshop.open().folder.glob("crash-*.txt")
    told = report.read_text(encoding="utf-8")
    assert "builtins.ZeroDivisionError" in told
    assert "in broken" in told
    assert "nine cards" not in "".join(line for line in told.splitlines() if "raise" not in line)
