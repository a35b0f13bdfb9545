"""One of several plans side by side: what it is best at, its figures, its sheets in small."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.events import Click
from textual.message import Message
from textual.widgets import Static

from workbench.app.widgets.pictures import Picture
from workbench.craft.project import Project
from workbench.drawing.labels import write_size
from workbench.drawing.sheets import draw_sheet
from workbench.making.pace import compared
from workbench.making.words import in_minutes
from workbench.measure.counting import counted, often
from workbench.measure.length import Unit
from workbench.planning import WISHES, Sheet

if TYPE_CHECKING:
    from workbench.planning import Alternative, Figures

_PICTURES = 2


class PlanColumn(Vertical):
    """Shows a choice; a click brings it to hand."""

    class Clicked(Message):
        """This plan is wanted at hand."""

        def __init__(self, choice: "Alternative") -> None:
            super().__init__()
            self.choice = choice

    def __init__(
        self,
        choice: "Alternative",
        sheets: Sequence[Sheet],
        project: Project,
        unit: Unit,
        beside: "Figures | None",
    ) -> None:
        """Show `choice`, its `sheets` in small, and what it has more or less than `beside`."""
        super().__init__()
        self.beside = beside
        self.choice, self.sheets, self.project, self.unit = choice, sheets, project, unit

    def compose(self) -> ComposeResult:
        yield Static(classes="words", markup=False)
        for _ in self.sheets[:_PICTURES]:
            yield Static(classes="caption", markup=False)
            yield Picture()

    def on_mount(self) -> None:
        self.at_hand(False)
        captions = self.query(".caption").results(Static)
        for sheet, caption, picture in zip(
            self.sheets, captions, self.query(Picture), strict=False
        ):
            caption.update(Text(f"{sheet.id} {sheet.paper}"))
            paper = self.project.paper(sheet.paper)
            picture.show(partial(draw_sheet, sheet, paper, unit=self.unit))

    def at_hand(self, is_so: bool) -> None:
        self.set_class(is_so, "at-hand")
        title = f"{'▸' if is_so else ' '} {WISHES[self.choice.wish]}"
        lines = [Text(title, "bold"), *map(Text, self._figures())]
        self.query_one(".words", Static).update(Text("\n").join(lines))

    def on_click(self, event: Click) -> None:
        event.stop()
        self.post_message(self.Clicked(self.choice))

    def _figures(self) -> Iterator[str]:
        figures = self.choice.figures
        work = figures.work
        yield f"  about {in_minutes(figures.seconds)} at the trimmer"
        yield f"  guide set {often(work.settings)}"
        yield f"  {counted(work.strokes, 'cut')}, {counted(work.sheets, 'sheet')} laid"
        kept = write_size(figures.offcut, self.unit) if figures.offcut else "none to keep"
        yield f"  offcut {kept}"
        if self.beside:
            yield from (f"  {line}" for line in compared(figures, self.beside))
