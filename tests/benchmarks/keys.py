"""How many keys lead from the start page to the first tick, by scripts that press them.

python -m tests.benchmarks.keys
"""

import asyncio
import os
import tempfile
from collections.abc import Awaitable, Callable
from pathlib import Path

from textual.pilot import Pilot

from workbench.app.app import TrimtallyApp
from workbench.app.screens.run import RunScreen

Script = Callable[["Fingers"], Awaitable[None]]
_PATIENCE_SECONDS = 60


class Fingers:
    """Presses keys and counts them; letters of names are counted apart."""

    def __init__(self, app: TrimtallyApp, pilot: Pilot[None]) -> None:
        self.app, self.pilot = app, pilot
        self.keys = self.letters = 0

    async def press(self, *keys: str) -> None:
        """Each a key that counts."""
        for key in keys:
            await self.pilot.press(key)
            await self.pilot.pause()
            self.keys += 1

    async def name(self, words: str) -> None:
        """The letters of a name."""
        self.letters += len(words)
        await self.pilot.press(*("space" if letter == " " else letter for letter in words))
        await self.pilot.pause()

    async def write(self, text: str) -> None:
        """Figures, which count like any other key."""
        await self.press(*("space" if letter == " " else letter for letter in text))

    async def until(self, there: Callable[[], bool]) -> None:
        """Wait for the planner or the disk."""
        for _ in range(_PATIENCE_SECONDS * 20):
            if there():
                break
            await self.pilot.pause(0.05)
        assert there()

    async def cut(self) -> None:
        """From any page of the project to the first tick."""
        await self.press("3")
        await self.until(lambda: self.app.session is not None and self.app.session.plan is not None)
        await self.press("space")
        await self.until(lambda: isinstance(self.app.screen, RunScreen))
        await self.pilot.pause(1)  # nobody reads a step faster than a finger bounces
        await self.press("space")
        await self.until(lambda: self.app.workshop.batches()[0].done == 1)


async def sample(fingers: Fingers) -> None:
    """The first sample, from the start page of somebody new; the short walk is one key less."""
    await fingers.press("down", "enter")
    await fingers.cut()


async def own_batch(fingers: Fingers) -> None:
    """Twelve cards of five papers and four pieces, from nothing."""
    press, name, write = fingers.press, fingers.name, fingers.write
    await press("n")
    await name("garden notes")
    await press("enter", "e")  # the empty card; its size and fold are as offered
    await press("enter", "enter", "enter", "enter")
    await write("12")
    await press("f4")
    await press("1", "c")  # the cardstock of the base: its name
    await name("cream card")
    await press("f4")
    for number, paper in enumerate(("reed floral", "moth dot", "kite stripe", "gate check")):
        await press("a" if number == 0 else "d")
        await name(paper)
        if number == 0:
            await press("enter", "enter")
            await write("2")
        await press("f4")
    await press("2")
    for piece, size in (
        ("panel", ""),
        ("band", "4 x 1 1/2"),
        ("patch", "2 x 2"),
        ("seal", "1 x 1"),
    ):
        await press("a")
        await name(piece)
        if size:
            await press("enter")
            await write(size)
        await press("f4")
    await fingers.cut()


async def counted(script: Script) -> tuple[int, int]:
    """The keys that a script presses besides the letters of names, and those letters."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TRIMTALLY_HOME"] = str(Path(folder) / "home")
        app = TrimtallyApp()
        async with app.run_test(size=(80, 24)) as pilot:
            fingers = Fingers(app, pilot)
            await pilot.pause(0.2)
            await script(fingers)
            return fingers.keys, fingers.letters


def main() -> None:
    """Print both."""
    for called, script in (("a sample", sample), ("a batch of the maker's own", own_batch)):
        keys, letters = asyncio.run(counted(script))
        print(f"{called}: {keys} keys to the first tick, and {letters} letters of names")


if __name__ == "__main__":
    main()
