"""Stock: the papers and offcuts of the project."""

from collections.abc import Callable, Iterator, Sequence

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import DataTable, Static

from workbench.app.commands import (
    AddOffcut,
    AddPaper,
    AdoptPapers,
    ChangePaper,
    CopyPaper,
    RemovePaper,
    TakeFromDrawer,
    bindings,
)
from workbench.app.edits import with_paper, without_offcut, without_paper
from workbench.app.screens.page import PageScreen
from workbench.app.screens.paper_forms import RUN_ARROWS, RUN_WORDS, OffcutForm, PaperForm
from workbench.app.session import Session
from workbench.app.widgets.fitted_table import FittedTable, column_widths
from workbench.app.widgets.forms import ProjectForm
from workbench.app.widgets.questions import Question
from workbench.craft.batch_checks import large_offcut
from workbench.craft.errors import CraftError
from workbench.craft.paper import Offcut, Paper, Run
from workbench.craft.project import Project
from workbench.drawing.canvas import shortened
from workbench.drawing.labels import write_size
from workbench.drawing.prints import swatch
from workbench.making.words import listed
from workbench.measure.counting import counted
from workbench.measure.length import Unit
from workbench.store.errors import StoreError

COLUMNS = ("", "Paper", "Size", "On hand", "Run", "Print")
LONGEST_NAME = 22
Cells = tuple[Text, ...]
RUN_SENTENCES: dict[Run, str] = {
    "none": "may be turned any way",
    "up": "has a right way up",
    "along": "may stand on its head, but not lie sideways",
}


class StockScreen(PageScreen):
    """A table with a line for each paper and offcut, the one at hand told in full below."""

    CSS_PATH = "stock.tcss"
    BINDINGS = bindings(
        (ChangePaper, AddPaper, CopyPaper, AddOffcut, RemovePaper, TakeFromDrawer, AdoptPapers)
    )
    PAGE = "stock"
    ABOUT = (
        "The papers this project may be made from, and the offcuts to use up first. What you"
        " change here belongs to the project and is kept when you save it."
    )

    def __init__(self) -> None:
        super().__init__()
        self._arrows = False
        self._drawn: frozenset[str] = frozenset()

    def body(self) -> ComposeResult:
        yield FittedTable(id="papers", cursor_type="row", cursor_foreground_priority="renderable")
        with Horizontal(id="at-hand"):
            yield Static(id="swatch", markup=False)
            yield Static(id="words", markup=False)

    def on_mount(self) -> None:
        self.table.focus()

    @property
    def table(self) -> FittedTable:
        return self.query_one("#papers", FittedTable)

    def show(self, session: Session, unit: Unit) -> None:
        row, self._drawn = self.table.cursor_row, self._linked()
        self._arrows = not self._fits(self._rows(arrows=False))
        self.table.refill(COLUMNS, self._rows(arrows=self._arrows))
        self.table.move_cursor(row=row)
        self._show_at_hand()

    def _linked(self) -> frozenset[str]:
        """The papers that draw on the drawer; a stranger's file may say so of another one."""
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import linked_papers

        try:
            return linked_papers(Drawer(self.app.workshop), self.project)
        except StoreError:  # said wherever the drawer is needed
            return frozenset()

    def on_resize(self) -> None:
        if self.app.session and self._arrows == self._fits(self._rows(arrows=False)):
            self._refresh()

    def _fits(self, rows: Sequence[Cells]) -> bool:
        """Whether there is room for the run in words, as it is told below the table too."""
        padding = len(COLUMNS) * 2 * self.table.cell_padding
        return sum(column_widths(COLUMNS, rows)) + padding <= self.app.size.width

    def _rows(self, *, arrows: bool) -> Sequence[Cells]:
        unit, project = self.app.unit, self.project
        return (
            *(tuple(_paper_cells(paper, unit, arrows)) for paper in project.papers),
            *(
                tuple(_offcut_cells(offcut, project.paper(offcut.paper), unit, arrows))
                for offcut in project.offcuts
            ),
        )

    @on(DataTable.RowHighlighted)
    def _show_at_hand(self) -> None:
        at_hand = self._at_hand()
        if at_hand is None:
            words = f"No paper yet: add one with {self.app.key_of(AddPaper)}."
            picture = Text()
        else:
            paper = at_hand if isinstance(at_hand, Paper) else self.project.paper(at_hand.paper)
            drawn = paper.name in self._drawn
            words = "\n".join(_words(at_hand, paper, self.project, self.app.unit, drawn))
            picture = swatch(paper, 18, 4).to_text()
        self.query_one("#words", Static).update(Content(words))
        self.query_one("#swatch", Static).update(picture)

    @work
    async def action_add_paper(self) -> None:
        await self._add(PaperForm(self.project, self.app.unit))

    @work
    async def action_copy_paper(self) -> None:
        at_hand = self._at_hand()
        model = at_hand if isinstance(at_hand, Paper) else None
        await self._add(PaperForm(self.project, self.app.unit, model=model))

    async def _add(self, form: PaperForm) -> None:
        """Go to the paper that was added, so that others like it are copied from it."""
        there = len(self.project.papers)
        await self._fill_in(form)
        if len(self.project.papers) > there:
            self.call_after_refresh(lambda: self.table.move_cursor(row=there))

    @work
    async def action_take_from_drawer(self) -> None:
        from workbench.app.screens.drawer import TakeScreen
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import fresh_stock

        paper_id = await self.app.push_screen_wait(TakeScreen())
        if paper_id is None:
            return
        drawer = Drawer(self.app.workshop)
        self._edit(
            lambda: fresh_stock(drawer, with_paper(self.project, drawer.paper(paper_id).taken))
        )

    @work
    async def action_adopt_papers(self) -> None:
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import adopt_papers

        linked = self._linked()
        free = [paper.name for paper in self.project.papers if paper.name not in linked]
        if not free:
            self.notify("All papers of this project draw on the drawer already.", markup=False)
            return
        question = (
            f"Put {listed(free)} in the drawer, with their sheets and offcuts? Those described"
            " just like one that is there are linked with it, and not counted twice."
        )
        answers = {"leave": "Leave them", "adopt": "Put them in"}
        if await self.app.push_screen_wait(Question(question, answers)) != "adopt":
            return
        self._edit(lambda: adopt_papers(Drawer(self.app.workshop), self.project))

    @work
    async def action_add_offcut(self) -> None:
        at_hand = self._at_hand()
        if at_hand is None:
            key = self.app.key_of(AddPaper)
            self.app.say_wrong(f"An offcut needs its paper: add that first, with {key}.")
            return
        name = at_hand.name if isinstance(at_hand, Paper) else at_hand.paper
        await self._fill_in(OffcutForm(self.project, self.app.unit, paper=name))

    @on(DataTable.RowSelected)
    def action_change_paper(self) -> None:
        self._change()

    @work
    async def _change(self) -> None:
        at_hand = self._at_hand()
        if isinstance(at_hand, Paper):
            await self._fill_in(PaperForm(self.project, self.app.unit, at_hand))
        elif at_hand:
            await self._fill_in(OffcutForm(self.project, self.app.unit, at=self._offcut_at()))

    def action_remove_paper(self) -> None:
        at_hand = self._at_hand()
        if isinstance(at_hand, Paper):
            self._edit(lambda: without_paper(self.project, at_hand.name))
        elif at_hand:
            self._edit(lambda: without_offcut(self.project, self._offcut_at()))

    def _edit(self, edit: Callable[[], Project]) -> None:
        """Make an edit, or say why not."""
        try:
            project = edit()
        except (StoreError, CraftError) as error:
            self.app.say_wrong(str(error))
        else:
            self.app.change_project(project)

    async def _fill_in(self, form: ProjectForm) -> None:
        project = await self.app.push_screen_wait(form)
        if project:
            self.app.change_project(project)

    def _at_hand(self) -> Paper | Offcut | None:
        things: list[Paper | Offcut] = [*self.project.papers, *self.project.offcuts]
        row = self.table.cursor_row
        return things[row] if row < len(things) else None

    def _offcut_at(self) -> int:
        return self.table.cursor_row - len(self.project.papers)


def _paper_cells(paper: Paper, unit: Unit, arrows: bool) -> Iterator[Text]:
    yield swatch(paper, 6, 1).to_text()
    yield Text(shortened(paper.name, LONGEST_NAME))
    yield Text(write_size(paper.size, unit))
    yield Text(str(paper.sheets), justify="right")
    yield _run_cell(paper.run, arrows)
    yield Text(paper.print)


def _offcut_cells(offcut: Offcut, paper: Paper, unit: Unit, arrows: bool) -> Iterator[Text]:
    yield swatch(paper, 6, 1).to_text()
    yield Text(shortened(f"offcut of {paper.name}", LONGEST_NAME))
    yield Text(write_size(offcut.size, unit))
    yield Text(str(offcut.count), justify="right")
    yield _run_cell(paper.run, arrows)


def _run_cell(run: Run, arrows: bool) -> Text:
    return Text(RUN_ARROWS[run] if arrows else f"{RUN_ARROWS[run]} {RUN_WORDS[run]}")


def _words(
    thing: Paper | Offcut, paper: Paper, project: Project, unit: Unit, drawn: bool
) -> Iterator[str]:
    """The paper or offcut in sentences; `drawn` says that it is the drawer's."""
    if isinstance(thing, Offcut):
        yield f"Offcut of {paper.name}: {thing.count} of {write_size(thing.size, unit)}"
        if doubt := large_offcut(project, thing):
            yield f"! {doubt.wrong}: {doubt.mend}"
    else:
        sheets = f"{counted(paper.sheets, 'sheet')} of {write_size(paper.size, unit)}"
        yield f"{paper.name}: {sheets}{', free in the drawer' if drawn else ''}"
    strip = f"a printed strip at the {paper.strip.edge}" if paper.strip else None
    back = f"back {paper.back.name} ({paper.back.print})" if paper.back else None
    notes = (paper.kind, paper.print, paper.weight, paper.thickness, strip, back)
    yield ", ".join(note for note in notes if note)
    yield f"It {RUN_SENTENCES[paper.run]}"
    users = ["the card base"] if project.card.paper == paper.name else []
    users += [piece.name for piece in project.pieces if paper.name in piece.papers]
    yield f"For {', '.join(users)}" if users else "Nothing is cut from it yet"
