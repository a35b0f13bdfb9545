"""Forms: labelled fields, checked as one types, with what is wrong said in words."""

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar, TypeVar

from textual import events, getters, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.suggester import SuggestFromList
from textual.widget import Widget
from textual.widgets import Button, Input, Label, Static

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
from workbench.app.views import ModalView
from workbench.app.widgets.fields import Choice, Field, YesNo
from workbench.app.widgets.footer import Keys
from workbench.craft.errors import CraftError, checked_name
from workbench.craft.paper import Size, checked_size
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import SHEETS, read_sheet, sheet_name
from workbench.drawing.canvas import Canvas, width_of
from workbench.drawing.labels import write_exactly
from workbench.measure.counting import counted
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.numerals import read_whole
from workbench.measure.reading import read_length

PREVIEW = (24, 14)
UNIT_NAMES: dict[Unit, str] = {"in": "inches", "mm": "millimetres"}
BESIDE_WIDTH = 72
"""Where a form is narrower, its fields take the place of the picture beside them."""
Read = TypeVar("Read")
Got = TypeVar("Got")
SizeReader = Callable[[str, Unit], Size]


FAULTY = "!"
MOST_TOLD = 2
"""More faults than these may not all have room, and it is said how each is seen."""
CUT_SHORT = "…"


def row(label: str, *fields: Widget) -> Horizontal:
    """Fields beside one another behind their common label, and a sign for what is up with them."""
    return Horizontal(Label(Content(label)), Label("", classes="sign"), *fields, classes="row")


def text(key: str, value: object = "", hint: str = "", suggest: tuple[str, ...] = ()) -> Input:
    """A field to type into."""
    suggester = SuggestFromList(suggest, case_sensitive=False) if suggest else None
    return Input(str(value), placeholder=hint, id=key, suggester=suggester, compact=True)


class Fields(VerticalScroll, can_focus=False, inherit_bindings=False):
    """Scrolls to the field in focus; the arrows are the form's, which walk from field to field."""


class Form(ModalView[Read | None]):
    """Gives what was read from its fields, or None when it was closed.

    Subclasses compose `fields`, and `read` them. What cannot be read of a field is told with all
    other faults, and so is a CraftError or MeasureError that `read` raises; nothing is kept until
    there is none.

    Attributes:
        PLACES: the field that a CraftError is about, by the last word of its place, where that is
            not the id of the field itself.
    """

    BINDINGS = bindings((KeepForm, MendForm, CloseForm, NextField, FieldBefore, Help))
    TITLE: ClassVar[str]
    ABOUT: ClassVar[str]
    KEEP: ClassVar[str] = "Keep"
    PLACES: ClassVar[Mapping[str, str]] = {}
    app = getters.app(WorkbenchApp)

    def __init__(self, unit: Unit) -> None:
        super().__init__()
        self.unit = unit
        self._blank: set[str] = set()
        self._unread: dict[str, str] = {}
        self._faults: Mapping[str, str] = {}

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
                with Fields(classes="fields"):
                    yield from self.fields()
                yield from self.beside()
            with Vertical(classes="foot"):
                yield Static(id="fault", classes="wrong", markup=False)
                with Horizontal(classes="buttons"):
                    yield Button(Content(self.KEEP), id="keep", compact=True, variant="primary")
                    yield Button(Content("Close"), id="close", compact=True)
                    yield Button(id="mend", compact=True)
        yield Keys(show_command_palette=False)

    def mend(self) -> tuple[str, str] | None:
        """A field that is wrong, and what would be right in it, where that is known."""
        return None

    def on_mount(self) -> None:
        self.app.put_notices_away()
        # What is blank from the start is told to be wrong when the form shall be kept, not before.
        self._blank = {field.id or "" for field in self.query(Input) if not field.value}
        self._check()

    def on_resize(self) -> None:
        self.set_class(self.size.width < BESIDE_WIDTH, "narrow")
        self.call_after_refresh(self._show_signs)

    @on(Input.Changed)
    @on(Field.Changed)
    def _check(self) -> None:
        read, faults = self._look()
        if read is not None:
            self.show(read)
        untouched = {key for key in self._blank if not self.typed(key)}
        self._tell({key: fault for key, fault in faults.items() if key not in untouched})

    def _look(self) -> tuple[Read | None, dict[str, str]]:
        """What the fields say, or all that is wrong with them by the id of the field, in words."""
        self._unread = {}
        read, wrong = None, None
        try:
            read = self.read()
        except (CraftError, MeasureError) as error:
            wrong = error
        if self._unread:
            return None, self._unread
        return (None, {self._field_of(wrong): str(wrong)}) if wrong else (read, {})

    def _field_of(self, error: CraftError | MeasureError) -> str:
        """The id of the field that `error` is about, "" where it is about none."""
        last = error.place.split(", ")[-1] if isinstance(error, CraftError) else ""
        key = self.PLACES.get(last, last)
        return key if key in {field.id for field in self.query(Input)} else ""

    def _tell(self, faults: Mapping[str, str]) -> None:
        self._faults = faults
        self._show_faults()
        mend = self.mend() if faults else None
        button = self.query_one("#mend", Button)
        button.display = mend is not None
        button.label = Content(f"Mend: {mend[1]}" if mend else "")
        self.call_after_refresh(self._show_signs)

    @on(events.DescendantFocus)
    def _show_faults(self) -> None:
        """That of the field in focus first, so that each is seen however little room there is."""
        at_hand = (self.focused.id if self.focused else None) or ""
        faults = sorted(self._faults.items(), key=lambda fault: fault[0] != at_hand)
        told = [fault for _, fault in faults]
        if len(told) > MOST_TOLD:
            told.insert(
                0, f"{counted(len(told), 'fault')}, each told first at its field ({FAULTY})"
            )
        self.query_one("#fault", Static).update(Content("\n".join(told)))

    def _show_signs(self) -> None:
        """Mark every row with a field at fault, or with one that shows less than it holds."""
        for each in self.query(".row"):
            fields = each.query(Input)
            faulty = any(field.id in self._faults for field in fields)
            clipped = any(0 < field.size.width <= width_of(field.value) for field in fields)
            each.set_class(faulty, "faulty")
            sign = FAULTY if faulty else CUT_SHORT if clipped else ""
            each.query_one(".sign", Label).update(sign)

    @on(Button.Pressed, "#keep")
    def action_keep_form(self) -> None:
        """Keep it, or tell all that is wrong and go to the first field of those."""
        read, faults = self._look()
        if read is not None:
            self.dismiss(read)
            return
        self._blank.clear()
        self._tell(faults)
        for field in self.query(Input):
            if field.id in faults:
                field.focus()
                return

    @on(Button.Pressed, "#mend")
    def action_mend_form(self) -> None:
        if mend := self.mend():
            field, value = mend
            self.query_one(f"#{field}", Input).value = value

    @on(Button.Pressed, "#close")
    def action_close_form(self) -> None:
        self.dismiss(None)

    @on(Input.Submitted)
    def action_next_field(self) -> None:
        self.focus_next()

    def action_field_before(self) -> None:
        self.focus_previous()

    # Reading the fields

    def typed(self, key: str) -> str:
        return self.query_one(f"#{key}", Input).value.strip()

    def chosen(self, key: str) -> str:
        return self.query_one(f"#{key}", Choice).value

    def marked(self, group: str) -> list[str]:
        """The labels of the marks of a group, called by its name, that are set."""
        return [mark.label for mark in self.query(YesNo) if mark.name == group and mark.value]

    def reading(self, key: str, read: Callable[[], Got], stand_in: Got) -> Got:
        """What `read` gives; where that raises, its error is told of the field `key`.

        Then `stand_in` is given, so that the other fields are read too; nothing is kept of it.
        """
        try:
            return read()
        except (CraftError, MeasureError) as error:
            self._unread[key] = str(error)
            return stand_in

    def named(self, key: str, place: str) -> str:
        """A name that can be printed."""
        return self.reading(key, lambda: checked_name(self.typed(key), place), "a name")

    def length(self, key: str, name: str) -> Length:
        """A length; the field is called `name` where it cannot be read."""

        def read() -> Length:
            try:
                return read_length(self.typed(key), self.unit)
            except MeasureError as error:
                raise CraftError(name, error.what, error.mend) from error

        return self.reading(key, read, Length.of(1, self.unit))

    def both_sides(self, read: SizeReader = read_sheet) -> Size:
        """The size in the field of `size_row`, by name or as two lengths."""

        def sides() -> Size:
            try:
                return checked_size(read(self.typed("size"), self.unit), "size")
            except MeasureError as error:
                raise CraftError("size", error.what, error.mend) from error

        return self.reading("size", sides, Size(*[Length.of(1, self.unit)] * 2))

    def count(self, key: str, name: str) -> int:
        """A whole number; the field is called `name` where it is none."""

        def read() -> int:
            try:
                return read_whole(self.typed(key))
            except MeasureError as error:
                raise CraftError(name, error.what, error.mend) from error

        return self.reading(key, read, 1)

    def size_row(self, size: Size | None, hint: str = "12 × 12, A4, Letter") -> Horizontal:
        """The field that `both_sides` reads, width first."""
        written = write_sides(size, self.unit) if size else ""
        return row(f"Size ({self.unit})", text("size", written, hint))


def write_sides(size: Size, unit: Unit) -> str:
    """A size as its field holds it: by name, or as two lengths; width first."""
    name = sheet_name(size)
    if name and SHEETS[name] == size and not name[0].isdigit():
        return name
    width, height = write_exactly(size.width, unit), write_exactly(size.height, unit)
    # A unit at the end would be that of both.
    if height[-1].isalpha() and not width[-1].isalpha():
        width = f"{width} {unit}"
    return f"{width} × {height}"


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
