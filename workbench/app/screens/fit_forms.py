"""The forms that size and place: a piece by what lies around it, the card anew in another size."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from textual.app import ComposeResult

from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.card import Piece
from workbench.craft.fitting import aligned, bordered, flush, narrower
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.craft.sheet_sizes import read_card
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.measure.length import Unit

_BORDER = "the same border all round"
_NARROWER = "so much narrower than what it is glued to"
_ALIGNED: Mapping[str, Callable[[Project, str], Project]] = {
    "at the left": lambda project, name: aligned(project, name, across="left"),
    "in the middle, left to right": lambda project, name: aligned(project, name, across="centre"),
    "at the right": lambda project, name: aligned(project, name, across="right"),
    "at the bottom": lambda project, name: aligned(project, name, up="bottom"),
    "in the middle, bottom to top": lambda project, name: aligned(project, name, up="centre"),
    "at the top": lambda project, name: aligned(project, name, up="top"),
}
_FLUSH: Mapping[str, Callable[[Project, str, str], Project]] = {
    "left edges in line": lambda project, name, other: flush(project, name, other, "left"),
    "right edges in line": lambda project, name, other: flush(project, name, other, "right"),
    "bottom edges in line": lambda project, name, other: flush(project, name, other, "bottom"),
    "top edges in line": lambda project, name, other: flush(project, name, other, "top"),
}
_BESIDE = "no other piece"


class FitForm(ProjectForm):
    """Fits `piece` to what lies around it."""

    TITLE = "Fit"
    ABOUT = (
        "Sizes the piece by the border it leaves, as in 1/8 all round, or by how much narrower it"
        " is than what it is glued to; or places it at an edge or in the middle of that, or with"
        " an edge in line with another piece. The picture shows what comes of it."
    )

    def __init__(self, project: Project, unit: Unit, piece: Piece) -> None:
        super().__init__(project, unit)
        self.piece = piece

    def fields(self) -> ComposeResult:
        others = tuple(
            each.name
            for each in self.project.pieces
            if each is not self.piece and not each.is_apart
        )
        ways = (_BORDER, _NARROWER, *_ALIGNED, *(_FLUSH if others else ()))
        yield row("How", Choice(ways, _BORDER, key="how"))
        border = "1/8" if self.unit == "in" else "3"
        yield row(f"By ({self.unit})", text("by", border, "the border, or how much narrower"))
        yield row("In line with", Choice(others or (_BESIDE,), key="other"))

    def read(self) -> Project:
        how, name = self.chosen("how"), self.piece.name
        if how in _ALIGNED:
            return _ALIGNED[how](self.project, name)
        if how in _FLUSH:
            return _FLUSH[how](self.project, name, self.chosen("other"))
        size = bordered if how == _BORDER else narrower
        return size(self.project, name, self.length("by", "by"))

    def preview(self, project: Project) -> Canvas:
        inside = self.piece.on == "inside"
        return draw_card(
            project, None, *PREVIEW, marked=self.piece.name, measured=self.unit, inside=inside
        )


class ResizeForm(ProjectForm):
    """Makes a new project of the card in another size."""

    TITLE = "New from this card"
    ABOUT = (
        "The same card in another size, as a new project: narrow borders stay as they are, all"
        " else follows, to the marks of an ordinary rule. Saving it asks for a file of its own."
    )

    def fields(self) -> ComposeResult:
        yield row("Title", text("title", self.project.title))
        yield self.size_row(self.project.card.size)

    def read(self) -> Project:
        title = self.named("title", "title")
        return replace(in_size(self.project, self.both_sides(read_card)), title=title)

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)
