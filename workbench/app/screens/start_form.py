"""The form that begins a new card, from a layout of our own or from nothing."""

from dataclasses import replace

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input

from workbench.app.screens.piece_forms import FOLD_WORDS
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, UNIT_NAMES, ProjectForm, row, text
from workbench.craft.card import FOLDS
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import CARDS, read_card
from workbench.craft.starts import LAYOUTS, about, start, unit_of
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.measure.length import MeasureError

_FIRST_SIZE = "US A2"


class NewCardForm(ProjectForm):
    """Chooses where to begin."""

    TITLE = "New card"
    KEEP = "Make the card"
    ABOUT = (
        "Begin from one of our layouts or from an empty card, in the size of your envelope or any"
        " other: by name (A6, US A2, DL) or as width × height (x will do), landscape too. The unit"
        " follows the size. The papers of a layout only stand for yours: change them in the Stock,"
        " and the pieces as you like. Saving asks for a file. "
        + " ".join(f"{name}: {about(name)}" for name in LAYOUTS)
    )

    def __init__(self) -> None:
        super().__init__(start(next(iter(LAYOUTS)), CARDS[_FIRST_SIZE], "in"), "in")

    def fields(self) -> ComposeResult:
        yield row("Title", text("title", hint="what the cards are for"))
        yield row("Layout", Choice(tuple(LAYOUTS), key="layout"))
        hint = "US A2, A6, DL or 4 1/4 × 5 1/2"
        yield row("Card size", text("size", _FIRST_SIZE, hint, tuple(CARDS)))
        yield row("Fold", Choice(tuple(FOLD_WORDS.values()), FOLD_WORDS["side"], key="fold"))
        yield row("Measured in", Choice(tuple(UNIT_NAMES.values()), key="units"))
        yield row("How many", text("count", self.project.card.count))

    def read(self) -> Project:
        self.unit = next(unit for unit, word in UNIT_NAMES.items() if word == self.chosen("units"))
        fold = next(fold for fold in FOLDS if FOLD_WORDS[fold] == self.chosen("fold"))
        size, count = self.both_sides(read_card), self.count("count", "how many")
        project = start(self.chosen("layout"), size, self.unit, fold)
        title = self.named("title", "title") if self.typed("title") else project.title
        return replace(project, title=title, card=replace(project.card, count=count))

    @on(Input.Changed, "#size")
    def _follow_size(self, event: Input.Changed) -> None:
        """Offer the unit that goes with the size."""
        try:
            unit = unit_of(read_card(event.value, self.unit))
        except MeasureError:
            return
        self.query_one("#units", Choice).choose(UNIT_NAMES[unit])

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)
