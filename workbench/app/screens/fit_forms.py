"""The forms that size and place: a piece by what lies around it, the card anew in another size."""

from collections.abc import Mapping
from dataclasses import replace

from textual.app import ComposeResult

from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.card import Across, Piece, Up
from workbench.craft.fitting import Side, aligned, bordered, flush, narrower
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.craft.sheet_sizes import read_card
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.measure.length import Unit

_BORDER = "border all round"
_NARROWER = "so much narrower"
_ALIGNED: Mapping[str, tuple[Across | None, Up | None]] = {
    "at the left": ("left", None),
    "in the middle across": ("centre", None),
    "at the right": ("right", None),
    "at the bottom": (None, "bottom"),
    "in the middle, up": (None, "centre"),
    "at the top": (None, "top"),
}
_FLUSH: Mapping[str, Side] = {
    "left edges in line": "left",
    "right edges in line": "right",
    "bottom edges in line": "bottom",
    "top edges in line": "top",
}
_BESIDE = "no other piece"


class FitForm(ProjectForm):
    """Fits `piece`, or the `number` of several on a card, to what lies around it."""

    TITLE = "Fit"
    ABOUT = (
        "Sizes the piece by the border it leaves, as in 1/8 all round, or by how much narrower it"
        " is than what it is glued to; or places it at an edge or in the middle of that, or with"
        " an edge in line with another piece. The picture shows what comes of it."
    )

    def __init__(self, project: Project, unit: Unit, piece: Piece, number: int = 1) -> None:
        super().__init__(project, unit)
        self.piece = piece
        self.number = number

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
            return aligned(self.project, name, *_ALIGNED[how], self.number)
        if how in _FLUSH:
            return flush(self.project, name, self.chosen("other"), _FLUSH[how], self.number)
        size = bordered if how == _BORDER else narrower
        return size(self.project, name, self.length("by", "by"), self.number)

    def preview(self, project: Project) -> Canvas:
        inside = self.piece.on == "inside"
        number = self.number if self.piece.spread == "placed" else None
        return draw_card(
            project,
            None,
            *PREVIEW,
            marked=self.piece.name,
            number=number,
            measured=self.unit,
            inside=inside,
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
