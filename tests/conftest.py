"""A workshop for each test, never the maker's; and no test depends on clock, place or terminal."""

import gc
import os
import sys
import time
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from tests.effort import HUNTING, examples
from workbench.drawing import canvas
from workbench.drawing.cell import TWICE

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

settings.register_profile(
    "unhurried",
    deadline=None,
    max_examples=examples(30),
    derandomize=not HUNTING,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("unhurried")
os.environ["TZ"] = "UTC"
time.tzset()
# What tests start finds its modules compiled, as an installed program does.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
for wish in ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "LINES"):
    os.environ.pop(wish, None)


def pytest_collection_finish() -> None:
    """Modules and tests stay to the end: what is collected is not gone through again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 20, 50)


_NUMBERS = count()


@pytest.fixture(autouse=True)
def workshop_folder(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Path:
    """Where a workshop may come to be; most tests make none, nor any other file."""
    folder = tmp_path_factory.getbasetemp() / f"workshop-{next(_NUMBERS)}"
    monkeypatch.setenv("TRIMTALLY_HOME", str(folder))
    monkeypatch.setattr(canvas, "cell_shape", lambda: TWICE)
    return folder


@pytest.fixture(scope="session")
def chromium() -> "Iterator[Chrome]":
    """The browser, where there is one, started once for all tests that need it."""
    from tests.app.browser import need_a_browser, started

    need_a_browser()
    driver = started()
    yield driver
    driver.quit()
