"""A project to open, a plan for it that takes no time, and pictures of the screens."""

from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from pytest_textual_snapshot import SVGImageExtension
from syrupy.assertion import SnapshotAssertion
from syrupy.location import PyTestLocation
from syrupy.types import SnapshotIndex
from textual.pilot import Pilot
from textual.widgets import Input

from tests.app.stillness import still
from tests.making.plans import HARBOUR, PLAN
from workbench.store.project_file import write_project

Look = Callable[[Pilot[None], str], Awaitable[None]]


class Pictures(SVGImageExtension):  # type: ignore[misc]
    """Keeps all pictures in one folder by plain names, so that the README can show them."""

    @classmethod
    def dirname(cls, *, test_location: PyTestLocation) -> str:
        del test_location
        return str(Path(__file__).parents[1] / "snapshots")

    @classmethod
    def get_snapshot_name(cls, *, test_location: PyTestLocation, index: SnapshotIndex = 0) -> str:
        del test_location
        return str(index)


@pytest.fixture
def look(snapshot: SnapshotAssertion) -> Look:
    """Compares the screen with the picture kept under a name; --snapshot-update keeps it anew."""
    pictures = snapshot.use_extension(Pictures)

    async def compare(pilot: Pilot[None], name: str) -> None:
        for field in pilot.app.screen.query(Input):
            field.cursor_blink = False
        await pilot.pause()
        width, height = pilot.app.size
        assert pilot.app.export_screenshot() == pictures(name=f"{name}-{width}x{height}")

    return compare


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    """The file of a small project."""
    path = tmp_path / "harbour.toml"
    write_project(path, HARBOUR)
    return path


@pytest.fixture
def planned(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every project gets the plan made by hand."""
    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: PLAN)


@pytest.fixture(autouse=True)
def no_first_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planning in these tests is one plan at a time, unless a test says otherwise."""
    monkeypatch.setattr("workbench.planning.driver.first_plan", lambda *_: None)


@pytest.fixture(autouse=True)
def no_time_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys and pauses wait until the app is still, and no longer; it is painted when it is.

    What would glide to its place is there at once.
    """
    for module in ("app", "pilot"):
        monkeypatch.setattr(f"textual.{module}.wait_for_idle", still)
    monkeypatch.setattr("textual.screen.UPDATE_PERIOD", 1)
    monkeypatch.setattr("textual.constants.TEXTUAL_ANIMATIONS", "none")
