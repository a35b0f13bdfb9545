"""The form that begins a new card from a layout of our own."""

from dataclasses import replace

from textual.app import ComposeResult

from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.project import Project
from workbench.craft.starts import LAYOUTS, SIZES, about, start
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.measure.length import Unit

_UNITS: dict[Unit, str] = {"in": "inches", "mm": "millimetres"}


class NewCardForm(ProjectForm):
    """Chooses where to begin."""

    TITLE = "New card"
    ABOUT = (
        "Begin from one of our layouts, in the size of your envelope. Its papers only stand for"
        " yours: change them in the Stock, and the pieces as you like. Saving asks for a file. "
        + " ".join(f"{name}: {about(name)}" for name in LAYOUTS)
    )

    def __init__(self) -> None:
        super().__init__(start(next(iter(LAYOUTS)), "A2", "in"), "in")

    def fields(self) -> ComposeResult:
        yield row("Title", text("title", hint="what the cards are for"))
        yield row("Layout", Choice(tuple(LAYOUTS), key="layout"))
        yield row("Size", Choice(tuple(SIZES["in"]), key="size"))
        yield row("Measured in", Choice(tuple(_UNITS.values()), key="units"))
        yield row("How many", text("count", self.project.card.count))

    def read(self) -> Project:
        units = next(unit for unit, word in _UNITS.items() if word == self.chosen("units"))
        project = start(self.chosen("layout"), self.chosen("size"), units)
        card = replace(project.card, count=self.count("count", "how many"))
        return replace(project, title=self.typed("title") or project.title, card=card)

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)
