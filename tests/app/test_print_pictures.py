"""Every print at three sizes, kept as pictures: in colour, in a light theme, in ANSI, without."""

from collections.abc import Iterator

import pytest
from textual.app import App, ComposeResult
from textual.widgets import Static

from tests.app.conftest import Look
from tests.making.plans import size
from workbench.app.themes import DARK, LIGHT
from workbench.craft.paper import Paper
from workbench.drawing.canvas import Canvas
from workbench.drawing.prints import PRINTS, swatch

SIZES = ((4, 1), (14, 4), (30, 9))
NAMES = (*PRINTS, "gulls on a line")
COLOURS = ("#2f6f8f", "#d9a441", "#f4efe4")
HEIGHT = sum((SIZES[-1][1] + 1,) * -(-len(NAMES) // 2)) + 1


class Prints(App[None]):
    """All prints, two abreast, each in three sizes."""

    def __init__(self, theme: str) -> None:
        super().__init__()
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        self.theme = theme

    def compose(self) -> ComposeResult:
        yield Static(_sheet().to_text())


def _sheet() -> Canvas:
    canvas = Canvas(110, HEIGHT)
    for number, name in enumerate(NAMES):
        x, y = number % 2 * 55, number // 2 * (SIZES[-1][1] + 1)
        canvas.text(x, y, name)
        for across, picture in zip((0, 0, 16), _swatches(name), strict=True):
            down = {1: 2, 4: 4, 9: 0}[picture.height]
            canvas.paste(picture, x + across, y + down)
    return canvas


def _swatches(name: str) -> Iterator[Canvas]:
    paper = Paper(name, "patterned", size(12, 12), print=name, colours=COLOURS)
    return (swatch(paper, *each) for each in SIZES)


@pytest.mark.parametrize(
    ("name", "theme", "plain"),
    [
        ("prints-dark", DARK.name, False),
        ("prints-light", LIGHT.name, False),
        ("prints-ansi", "ansi-dark", False),
        ("prints-no-colour", DARK.name, True),
    ],
)
async def test_every_print_at_three_sizes(
    look: Look, name: str, theme: str, plain: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if plain:
        monkeypatch.setenv("NO_COLOR", "1")
    async with Prints(theme).run_test(size=(112, HEIGHT)) as pilot:
        await look(pilot, name)
