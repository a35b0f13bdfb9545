"""A fault leaves a report that holds nothing of the maker's; debugging is logged when asked for."""

import logging
from pathlib import Path

import pytest

from workbench.store import diagnostics
from workbench.store.database import Workshop
from workbench.store.diagnostics import LOG_FILE, fault_in_words, log_if_asked, write_crash_report

SECRET = "harbour stripe"


def failed() -> Exception:
    papers: dict[str, str] = {}
    try:
        try:
            papers[SECRET]
        except KeyError as error:
            raise ValueError(f"no paper {SECRET}") from error
    except ValueError as error:
        found = error
    return found


def test_a_report_tells_where_it_went_wrong_and_nothing_of_the_makers() -> None:
    path = write_crash_report(failed())
    assert path is not None
    assert path.parent == Workshop.open().folder
    told = path.read_text(encoding="utf-8")
    assert "builtins.ValueError" in told
    assert "after\nbuiltins.KeyError" in told
    assert "in failed" in told
    assert "textual " in told
    assert "Python 3." in told
    assert SECRET not in told
    assert path.stat().st_mode & 0o077 == 0


def test_the_line_on_screen_says_where_the_report_is() -> None:
    line = fault_in_words(failed())
    (path,) = Workshop.open().folder.glob("crash-*.txt")
    assert str(path) in line
    assert "\n" not in line
    assert len(fault_in_words(ValueError("x" * 1000))) - len(line) < 100


def test_where_memory_has_run_out_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: BaseException) -> None:
        raise MemoryError

    monkeypatch.setattr(diagnostics, "write_crash_report", full)
    assert "MemoryError" in fault_in_words(MemoryError())


def test_without_a_folder_that_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("TRIMTALLY_HOME", str(tmp_path / "file" / "home"))
    assert "no report could be written" in fault_in_words(failed())


def test_what_is_tried_is_logged_only_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    logger = logging.getLogger("workbench")
    monkeypatch.setattr(logger, "handlers", [])
    monkeypatch.setattr(logger, "propagate", True)
    monkeypatch.setattr(logger, "level", logging.NOTSET)
    log_if_asked(to_file=True)
    assert logger.handlers == []
    monkeypatch.setenv("TRIMTALLY_DEBUG", "1")
    log_if_asked(to_file=True)
    logging.getLogger("workbench.planning.sheets").debug("tried %d sheets", 3)
    for handler in logger.handlers:
        handler.close()
    kept = (Workshop.open().folder / LOG_FILE).read_text(encoding="utf-8")
    assert "workbench.planning.sheets: tried 3 sheets" in kept
