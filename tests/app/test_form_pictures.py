"""Pictures of forms, where there is little room too, and of what the maker adds to the bench."""

from pathlib import Path

import pytest

from tests.app.bench import at_bench, batch_begun
from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running, type_over
from tests.craft.test_placed_copies import SHELLS
from tests.making.test_own_steps import AT, OWNED, PROJECT, STEPS
from workbench.app.widgets.fields import Choice, YesNo
from workbench.making.events import Event
from workbench.planning import Own
from workbench.store.database import Workshop
from workbench.store.project_file import write_project

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE, (60, 20)], ids=["small", "large", "narrow"])


@SIZES
async def test_new_card(look: Look, size: tuple[int, int]) -> None:
    async with running(size=size) as (_, pilot):
        await press(pilot, "n")
        await look(pilot, "new-card")


@SIZES
async def test_faults(harbour: Path, look: Look, size: tuple[int, int]) -> None:
    async with running(harbour, size) as (_, pilot):
        await press(pilot, "1", "a")
        await type_over(pilot, "size", "big")
        await type_over(pilot, "sheets", "few")
        await press(pilot, "f4")
        await look(pilot, "form-faults")


@SIZES
async def test_own_steps(harbour: Path, look: Look, size: tuple[int, int]) -> None:
    async with running(harbour, size) as (_, pilot):
        await press(pilot, "down", "t", "a")
        await type_over(pilot, "name", "punch a hole")
        await type_over(pilot, "size", "1/4 x 1/4")
        await type_over(pilot, "places", "1/2, 1/2; 3, 1/2")
        await look(pilot, "own-step")
        await press(pilot, "f4")
        await look(pilot, "own-steps")


@SIZES
async def test_papers_in_a_few_keys(harbour: Path, look: Look, size: tuple[int, int]) -> None:
    async with running(harbour, size) as (app, pilot):
        await press(pilot, "1", "a")
        await type_over(pilot, "name", "reed floral")
        await look(pilot, "paper")
        more = next(mark for mark in app.screen.query(YesNo) if mark.name == "more")
        more.focus()
        await press(pilot, "space")
        await look(pilot, "paper-more")


@SIZES
async def test_a_piece_several_times_on_a_card(
    tmp_path: Path, look: Look, size: tuple[int, int]
) -> None:
    path = tmp_path / "shells.toml"
    write_project(path, SHELLS)
    async with running(path, size) as (app, pilot):
        await press(pilot, "down", "down", "down")
        await look(pilot, "placed")
        await press(pilot, "c")
        app.animation_level = "none"  # a form that still scrolls is another picture
        app.screen.query_one("#spread", Choice).focus()
        await press(pilot, "down")
        await look(pilot, "placed-piece")


async def test_all_other_forms_of_a_project_where_there_is_little_room(
    harbour: Path, look: Look
) -> None:
    async with running(harbour, (60, 20)) as (_, pilot):
        for name, keys in {
            "stock-paper": "1c",
            "pieces-piece": "2c",
            "pieces-fit": "2e",
            "pieces-extra": "2g",
            "pieces-post": "2v",
        }.items():
            await press(pilot, keys[0], "down", keys[1])
            await look(pilot, name)
            await press(pilot, "escape")


@SIZES
async def test_slips_as_the_maker_says_them(look: Look, size: tuple[int, int]) -> None:
    batch = batch_begun()
    async with running(size=size) as (_, pilot):
        await at_bench(pilot, batch)
        await press(pilot, "space", "x")
        await look(pilot, "slip-asked")
        await press(pilot, "enter", "enter")
        await look(pilot, "slip-length")


@SIZES
async def test_a_step_of_her_own_at_the_bench(look: Look, size: tuple[int, int]) -> None:
    batch = Workshop.open().create_batch(PROJECT, None, OWNED)
    for number in range(1, next(step.n for step in STEPS if isinstance(step, Own))):
        Workshop.open().append(batch, Event("ticked", number, AT), number)
    async with running(size=size) as (_, pilot):
        await at_bench(pilot, batch)
        await look(pilot, "run-own")
