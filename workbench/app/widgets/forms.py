"""Forms: labelled fields, checked as one types, with what is wrong said in words."""

from collections.abc import Iterator
from typing import ClassVar, TypeVar

from textual import getters, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.suggester import SuggestFromList
from textual.widget import Widget
from textual.widgets import Button, Footer, Input, Label, Static

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    CloseForm,
    FieldBefore,
    Help,
    KeepForm,
    MendForm,
    NextField,
    bindings,
)
from workbench.app.widgets.fields import Choice, Field, YesNo
from workbench.craft.errors import CraftError
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas
from workbench.drawing.labels import write_exactly
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.reading import read_length

PREVIEW = (24, 14)
Read = TypeVar("Read")


def row(label: str, *fields: Widget) -> Horizontal:
    """Fields beside one another behind their common label."""
    return Horizontal(Label(Content(label)), *fields, classes="row")


def text(key: str, value: object = "", hint: str = "", suggest: tuple[str, ...] = ()) -> Input:
    """A field to type into."""
    suggester = SuggestFromList(suggest, case_sensitive=False) if suggest else None
    return Input(str(value), placeholder=hint, id=key, suggester=suggester, compact=True)


class Form(ModalScreen[Read | None]):
    """Gives what was read from its fields, or None when it was closed.

    Subclasses compose `fields`, and `read` them; whatever CraftError or MeasureError that raises
    is shown below, and nothing is kept until there is none.
    """

    BINDINGS = bindings((KeepForm, MendForm, CloseForm, NextField, FieldBefore, Help))
    TITLE: ClassVar[str]
    ABOUT: ClassVar[str]
    app = getters.app(WorkbenchApp)

    def __init__(self, unit: Unit) -> None:
        super().__init__()
        self.unit = unit
        self._first: list[str | bool] = []

    def fields(self) -> ComposeResult:
        raise NotImplementedError

    def read(self) -> Read:
        raise NotImplementedError

    def beside(self) -> Iterator[Widget]:
        """What stands to the right of the fields."""
        return iter(())

    def show(self, read: Read) -> None:
        """Show beside the fields what they say, whenever nothing is wrong with it."""

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content(self.TITLE), classes="heading")
            with Horizontal(classes="sheet"):
                with VerticalScroll(classes="fields", can_focus=False):
                    yield from self.fields()
                yield from self.beside()
            with Vertical(classes="foot"):
                yield Static(id="fault", classes="wrong", markup=False)
                with Horizontal(classes="buttons"):
                    yield Button(id="mend", compact=True)
                    yield Button(Content("Keep"), id="keep", compact=True, variant="primary")
                    yield Button(Content("Close"), id="close", compact=True)
        yield Footer(show_command_palette=False)

    def mend(self) -> tuple[str, str] | None:
        """A field that is wrong, and what would be right in it, where that is known."""
        return None

    def on_mount(self) -> None:
        self.app.put_notices_away()
        self._first = self._values()
        self._check()

    @on(Input.Changed)
    @on(Field.Changed)
    def _check(self) -> None:
        fault = ""
        try:
            self.show(self.read())
        except (CraftError, MeasureError) as error:
            fault = str(error)
        told = "" if self._values() == self._first and "" in self._first else fault
        self.query_one("#fault", Static).update(Content(told))
        mend = self.mend() if told else None
        button = self.query_one("#mend", Button)
        button.display = mend is not None
        button.label = Content(f"Mend: {mend[1]}" if mend else "")
        self.query_one("#keep", Button).disabled = bool(fault)

    @on(Input.Submitted)
    @on(Button.Pressed, "#keep")
    def action_keep_form(self) -> None:
        try:
            self.dismiss(self.read())
        except (CraftError, MeasureError):
            self._first = []
            self._check()

    @on(Button.Pressed, "#mend")
    def action_mend_form(self) -> None:
        if mend := self.mend():
            field, value = mend
            self.query_one(f"#{field}", Input).value = value

    @on(Button.Pressed, "#close")
    def action_close_form(self) -> None:
        self.dismiss(None)

    def action_next_field(self) -> None:
        self.focus_next()

    def action_field_before(self) -> None:
        self.focus_previous()

    def _values(self) -> list[str | bool]:
        """What the fields say; a form that is blank yet is not told what is wrong with it."""
        typed = [field.value for field in self.query(Input)]
        chosen = [choice.value for choice in self.query(Choice)]
        return [*typed, *chosen, *(mark.value for mark in self.query(YesNo))]

    # Reading the fields

    def typed(self, key: str) -> str:
        return self.query_one(f"#{key}", Input).value.strip()

    def chosen(self, key: str) -> str:
        return self.query_one(f"#{key}", Choice).value

    def marked(self, group: str) -> list[str]:
        """The labels of the marks of a group, called by its name, that are set."""
        return [mark.label for mark in self.query(YesNo) if mark.name == group and mark.value]

    def length(self, key: str, name: str) -> Length:
        """Raises CraftError naming the field."""
        try:
            return read_length(self.typed(key), self.unit)
        except MeasureError as error:
            raise CraftError(name, error.what, error.mend) from error

    def both_sides(self) -> Size:
        return Size(self.length("width", "width"), self.length("height", "height"))

    def count(self, key: str, name: str) -> int:
        """Raises CraftError naming the field."""
        typed = self.typed(key)
        if not (typed.isascii() and typed.isdigit() and len(typed) < 10):
            raise CraftError(name, f'"{typed}" is not a whole number', "write digits only")
        return int(typed)

    def size_row(self, size: Size | None) -> Horizontal:
        """The two fields that `both_sides` reads."""
        width, height = (
            (write_exactly(size.width, self.unit), write_exactly(size.height, self.unit))
            if size
            else ("", "")
        )
        return row(
            f"Size ({self.unit})",
            text("width", width, "width"),
            Label("×"),
            text("height", height, "height"),
        )


class ProjectForm(Form[Project]):
    """A form about `project`; gives the project changed."""

    def __init__(self, project: Project, unit: Unit) -> None:
        super().__init__(unit)
        self.project = project

    def preview(self, project: Project) -> Canvas:
        """What the changed project looks like, at most PREVIEW cells large."""
        raise NotImplementedError

    def beside(self) -> Iterator[Widget]:
        yield Static(id="preview", markup=False)

    def show(self, read: Project) -> None:
        self.query_one("#preview", Static).update(self.preview(read).to_text())
