"""Pictures of the screens, in the small and the large size. The README shows some of them."""

from dataclasses import replace
from datetime import UTC, datetime
from itertools import permutations
from pathlib import Path

import pytest

from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running, settled
from tests.making.plans import HARBOUR, PLAN
from workbench.app.samples import samples
from workbench.app.themes import LIGHT
from workbench.making.events import Event
from workbench.planning.result import Combination, Totals
from workbench.store.database import Workshop
from workbench.store.project_file import read_project

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["small", "large"])
REGATTA = next(sample.path for sample in samples() if sample.path.stem == "regatta_thanks")
NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)


@pytest.fixture
def regatta_planned(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its combinations dealt by hand, so that no change of the planner's changes a picture."""
    prints = ("lantern dot", "net check", "spindrift speckle")
    deals = [
        dict(zip(("panel", "band", "patch"), deal, strict=True)) for deal in permutations(prints)
    ]
    plain = dict.fromkeys(("mat", "greeting"), "sailcloth white")
    layers = [layer.name for layer in read_project(REGATTA).layers()]
    cards = tuple(
        Combination(card + 1, {name: (deals[card % 6] | plain)[name] for name in layers})
        for card in range(9)
    )
    totals = Totals(sheets=13, fewest_possible=13, cuts=55, marks=9, seconds=0.0)
    plan = replace(PLAN, cards=9, totals=totals, combinations=cards)
    monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: plan)


@SIZES
async def test_start(look: Look, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workbench.store.database._now", NOON.isoformat)
    workshop = Workshop.open()
    workshop.remember(Path("/cards/harbour.toml"), HARBOUR.title)
    batch = workshop.create_batch(HARBOUR, Path("/cards/harbour.toml"), PLAN)
    workshop.append(batch, Event("ticked", 1, NOON), 1)
    async with running(size=size) as (_, pilot):
        await look(pilot, "start")


@SIZES
@pytest.mark.usefixtures("regatta_planned")
@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("stock", ["1", "down", "down"]),
        ("stock-paper", ["1", "down", "down", "enter"]),
        ("stock-offcut", ["1", "down", "down", "f"]),
        ("pieces", ["down", "down"]),
        ("pieces-mm", ["down", "down", "u"]),
        ("pieces-card", ["enter"]),
        ("pieces-piece", ["down", "down", "enter"]),
        ("help", ["f1"]),
        ("combinations", ["4"]),
        ("combinations-card", ["4", "right", "enter"]),
    ],
)
async def test_pages(
    look: Look,
    size: tuple[int, int],
    name: str,
    keys: list[str],
) -> None:
    async with running(REGATTA, size) as (app, pilot):
        for key in keys:
            await press(pilot, key)
            if key == "4":
                await app.workers.wait_for_complete()
                await settled(pilot)
        await look(pilot, name)


@SIZES
async def test_leaving_with_changes(harbour: Path, look: Look, size: tuple[int, int]) -> None:
    async with running(harbour, size) as (_, pilot):
        await press(pilot, "down", "down", "x", "q")
        await look(pilot, "question")


@pytest.mark.parametrize("page", ["1", "2"])
async def test_light(look: Look, page: str) -> None:
    async with running(REGATTA, SMALL) as (app, pilot):
        await press(pilot, page, "f3")
        assert app.theme == LIGHT.name
        await look(pilot, f"light-{page}")


@pytest.mark.parametrize("page", ["1", "2"])
async def test_without_colour(look: Look, page: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with running(REGATTA, SMALL) as (_, pilot):
        await press(pilot, page)
        await look(pilot, f"no-colour-{page}")


@pytest.mark.parametrize("page", ["1", "2"])
async def test_in_the_terminals_own_colours(look: Look, page: str) -> None:
    async with running(REGATTA, SMALL) as (app, pilot):
        app.theme = "ansi-dark"
        await press(pilot, page)
        await look(pilot, f"ansi-{page}")
