"""Pictures of the forms that begin a card and its steps, and of one with faults."""

from pathlib import Path

import pytest

from tests.app.conftest import Look
from tests.app.running import LARGE, SMALL, press, running, type_over

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
