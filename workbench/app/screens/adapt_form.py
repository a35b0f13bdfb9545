"""The form that asks what paper, unit, count and size of card a reader has; and what came of it."""

from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Button, Static

from workbench.app.commands import CloseForm, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.forms import UNIT_NAMES, Form, row, text
from workbench.craft.errors import CraftError
from workbench.craft.paper import Paper
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import CARDS, SHEETS, read_card, read_whole_sheet
from workbench.measure.length import Unit
from workbench.publish.adaptation import Adaptation, Wishes
from workbench.publish.stand_ins import suggest
from workbench.store.errors import StoreError
from workbench.store.project_file import read_project


class AdaptForm(Form[Wishes]):
    """Asks for the wishes of a reader who would make `project`."""

    TITLE = "Adapt"
    ABOUT = (
        "The same card for somebody with other paper. Sheets are named, as in A4, Letter or"
        " 6 × 6 in, or measured, as in 152 × 152 mm; what is left empty stays as it is. Own papers"
        " is a project file whose papers stand in for those of this card, by kind, run and colour."
    )

    def __init__(self, project: Project, unit: Unit) -> None:
        super().__init__(unit)
        self.project = project

    def fields(self) -> ComposeResult:
        units = tuple(UNIT_NAMES.values())
        yield row("Rule in", Choice(units, UNIT_NAMES[self.project.units], key="units"))
        sheets = tuple(SHEETS)
        yield row("Sheets of card", text("sheet", hint="as they are", suggest=sheets))
        yield row("Printed sheets", text("patterned", hint="as they are", suggest=sheets))
        yield row("How many", text("count", self.project.card.count))
        yield row("Card", text("card", hint="as it is: A6, US A2 ...", suggest=tuple(CARDS)))
        yield row("Own papers", text("own", hint="path of a project file"))

    def read(self) -> Wishes:
        unit = next(unit for unit, word in UNIT_NAMES.items() if word == self.chosen("units"))
        sheet, patterned, card = (self.typed(key) for key in ("sheet", "patterned", "card"))
        count = self.count("count", "how many")
        own = self.typed("own")
        return Wishes(
            unit=unit if unit != self.project.units else None,
            sheet=read_whole_sheet(sheet, unit) if sheet else None,
            patterned=read_whole_sheet(patterned, unit) if patterned else None,
            count=count if count != self.project.card.count else None,
            card=read_card(card, unit) if card else None,
            stand_ins=_stand_ins(self.project, own) if own else {},
        )


def _stand_ins(project: Project, path: str) -> dict[str, Paper]:
    try:
        own = read_project(Path(path).expanduser()).papers
    except StoreError as error:
        raise CraftError("own papers", str(error), "give the path of a project file") from error
    return {found.paper.name: found.own for found in suggest(project, own) if found.own}


class AdaptedScreen(ModalView[bool]):
    """Tells what an adaptation changes; True when the maker takes it."""

    BINDINGS = bindings((CloseForm,))
    ABOUT = "What is different for that reader. Taking it changes the project; undo takes it back."

    def __init__(self, adaptation: Adaptation) -> None:
        super().__init__()
        self.adaptation = adaptation

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content("For that reader"), classes="heading")
            with VerticalScroll(can_focus=False):
                yield Static(Content("\n".join(self.adaptation.changes())), id="changes")
            with Horizontal(classes="buttons"):
                yield Button(Content("Take it"), id="take", compact=True, variant="primary")
                yield Button(Content("Close"), id="close", compact=True)
        yield Keys(show_command_palette=False)

    def on_button_pressed(self, event: Button.Pressed) -> None:
        self.dismiss(event.button.id == "take")

    def action_close_form(self) -> None:
        self.dismiss(False)
