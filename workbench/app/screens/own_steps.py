"""The maker's own steps: their list, and the form of one."""

from fractions import Fraction

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import AddStep, ChangeStep, CloseForm, RemoveStep, bindings
from workbench.app.edits import with_own_step, without_own_step
from workbench.app.views import ModalView
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text, write_sides
from workbench.craft.card import FRONT
from workbench.craft.errors import CraftError
from workbench.craft.own_step import MOMENTS, Hole, Moment, OwnStep
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import read_sheet
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.labels import write_exactly
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.numerals import mixed, read_minutes
from workbench.measure.reading import read_length

USUAL = (
    "stamp",
    "emboss with heat",
    "ink the edges",
    "punch a hole",
    "print the words",
    "add a ribbon",
)
WHEN_WORDS: dict[Moment, str] = {
    "before cutting": "before cutting, on the sheets",
    "after cutting": "after cutting",
    "after scoring": "after scoring and folding",
    "before mounting": "before mounting and assembling",
    "after mounting": "after mounting inside",
    "last": "last, on the finished card",
}


class OwnStepsScreen(ModalView[None]):
    """Lists them in their order; each change is one of the open project."""

    BINDINGS = bindings((AddStep, ChangeStep, RemoveStep, CloseForm))
    ABOUT = (
        "What you do besides cutting and gluing: stamp, emboss, ink edges, punch, print words, add"
        " a ribbon. Each step is counted off and ticked at the bench like all others."
    )
    app = getters.app(WorkbenchApp)

    def __init__(self, on_piece: str = FRONT) -> None:
        super().__init__()
        self._on_piece = on_piece

    @property
    def project(self) -> Project:
        """The open one."""
        assert self.app.session is not None
        return self.app.session.project

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content("Steps of your own"), classes="heading")
            yield Static(id="none", classes="quiet", markup=False)
            yield OptionList(id="steps", markup=False, compact=True)
        yield Keys(show_command_palette=False)

    def on_mount(self) -> None:
        self.app.put_notices_away()
        self._fill(0)

    def action_close_form(self) -> None:
        self.dismiss()

    @work
    async def action_add_step(self) -> None:
        form = StepForm(self.project, self.app.unit, on_piece=self._on_piece)
        self._take(await self.app.push_screen_wait(form), len(self.project.steps))

    @on(OptionList.OptionSelected)
    @work
    async def action_change_step(self) -> None:
        at = self._at_hand()
        if at is None:
            self.action_add_step()
            return
        form = StepForm(self.project, self.app.unit, self.project.steps[at])
        self._take(await self.app.push_screen_wait(form), at)

    def action_remove_step(self) -> None:
        at = self._at_hand()
        if at is not None:
            self._take(without_own_step(self.project, self.project.steps[at].name), max(0, at - 1))

    def _take(self, project: Project | None, at: int) -> None:
        if project:
            self.app.change_project(project)
            self._fill(at)

    def _at_hand(self) -> int | None:
        return self.query_one(OptionList).highlighted

    def _fill(self, at: int) -> None:
        steps, listed = self.project.steps, self.query_one(OptionList)
        listed.clear_options()
        listed.add_options(
            [Option(Content(f"{s.name}: {s.on}, {WHEN_WORDS[s.when]}")) for s in steps]
        )
        listed.display = bool(steps)
        add = self.app.key_of(AddStep)
        none = "" if steps else f"None yet: {add} adds one, such as {', '.join(USUAL)}."
        self.query_one("#none", Static).update(Content(none))
        if steps:
            listed.highlighted = min(at, len(steps) - 1)
            listed.focus()


class StepForm(ProjectForm):
    """Adds a step of the maker's own, or changes `step`."""

    TITLE = "Step of your own"
    ABOUT = (
        "Say in your own words what is done, to which piece or to the card, and when. Minutes are"
        " for each one. A caution is shown with the step. For a hole or a slot say how large it is"
        " (width × height, a slot is longer) and where its middle lies, from the left and from the"
        " bottom of the piece: 1/2, 5 1/2. Several are parted by a semicolon."
    )

    def __init__(
        self, project: Project, unit: Unit, step: OwnStep | None = None, on_piece: str = FRONT
    ) -> None:
        super().__init__(project, unit)
        self.step = step
        self.on_piece = on_piece

    def fields(self) -> ComposeResult:
        step = self.step or OwnStep("new", self.on_piece)
        moments = tuple(WHEN_WORDS[moment] for moment in MOMENTS)
        on_what = (FRONT, *(piece.name for piece in self.project.pieces))
        yield row("What", text("name", self.step.name if self.step else "", "stamp", USUAL))
        yield row("Of", Choice(on_what, step.on, key="on"))
        yield row("When", Choice(moments, WHEN_WORDS[step.when], key="when"))
        yield row("Minutes each", text("minutes", mixed(step.minutes) if step.minutes else ""))
        yield row("Take care", text("caution", step.caution, "a caution, if there is one"))
        size = write_sides(step.holes[0].size, self.unit) if step.holes else ""
        yield row(f"Hole ({self.unit})", text("size", size, "1/8 × 1/8, if there is one"))
        places = "; ".join(self._place(hole) for hole in step.holes)
        yield row("Its middle at", text("places", places, "left, bottom; left, bottom"))

    def read(self) -> Project:
        step = OwnStep(
            name=self.named("name", "what"),
            on=self.chosen("on"),
            when=next(each for each in MOMENTS if WHEN_WORDS[each] == self.chosen("when")),
            minutes=self.reading("minutes", self._minutes, Fraction(0)),
            caution=self.typed("caution"),
            holes=self._holes(),
        )
        return with_own_step(self.project, step, self.step.name if self.step else None)

    def preview(self, project: Project) -> Canvas:
        marked = self.chosen("on")
        return draw_card(project, None, *PREVIEW, marked=None if marked == FRONT else marked)

    def _minutes(self) -> Fraction:
        typed = self.typed("minutes")
        try:
            return read_minutes(typed) if typed else Fraction(0)
        except MeasureError as error:
            raise CraftError("minutes each", error.what, error.mend) from error

    def _holes(self) -> tuple[Hole, ...]:
        if not self.typed("size"):
            return ()
        size = self.both_sides(read_sheet)
        none: tuple[tuple[Length, Length], ...] = ()
        places = self.reading("places", self._places, none)
        before = self.step.holes if self.step else ()
        same = before[:1] and before[0].size == size
        sizes = [hole.size for hole in before] if same else []
        sizes += [size] * len(places)  # for those that are new
        return tuple(Hole(x, y, each) for (x, y), each in zip(places, sizes, strict=False))

    def _places(self) -> tuple[tuple[Length, Length], ...]:
        return tuple(self._both(each) for each in self.typed("places").split(";"))

    def _both(self, written: str) -> tuple[Length, Length]:
        across, comma, up = written.partition(",")
        if not comma:
            right = "write two lengths, from the left and from the bottom, as in 1/2, 5 1/2"
            raise CraftError("its middle", f'"{written.strip()}" is no place', right)
        try:
            return read_length(across, self.unit), read_length(up, self.unit)
        except MeasureError as error:
            raise CraftError("its middle", error.what, error.mend) from error

    def _place(self, hole: Hole) -> str:
        return f"{write_exactly(hole.x, self.unit)}, {write_exactly(hole.y, self.unit)}"
