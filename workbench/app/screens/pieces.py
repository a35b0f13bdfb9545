"""Pieces: the card and what is layered on it, back to front."""

from collections.abc import Iterator

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import DataTable, Static

from workbench.app.app import ProjectChanged
from workbench.app.commands import (
    AddPiece,
    BringForward,
    ChangePiece,
    RemovePiece,
    SendBack,
    bindings,
)
from workbench.app.edits import with_piece_moved, without_piece
from workbench.app.screens.piece_forms import FOLD_WORDS, CardForm, PieceForm
from workbench.app.screens.room import RoomScreen
from workbench.app.session import Session
from workbench.app.widgets.forms import ProjectForm
from workbench.app.widgets.pictures import Picture
from workbench.craft.card import Card, Piece
from workbench.craft.faults import CraftError
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas, shortened
from workbench.drawing.cards import draw_card
from workbench.drawing.labels import write_exactly, write_size
from workbench.measure.length import Length, Unit

LONGEST_NAME = 18


class PiecesScreen(RoomScreen):
    """A line for the card and each piece; beside it the card, the piece at hand made out."""

    CSS_PATH = "pieces.tcss"
    BINDINGS = bindings((ChangePiece, AddPiece, RemovePiece, BringForward, SendBack))
    ROOM = "pieces"
    ABOUT = (
        "The card and its pieces, from the back to the front, with the card drawn to scale beside"
        " them. Where a piece may be cut from several papers, one is drawn."
    )

    def body(self) -> ComposeResult:
        with Horizontal():
            with Vertical(id="layers"):
                yield DataTable(
                    id="pieces", cursor_type="row", cursor_foreground_priority="renderable"
                )
                yield Static(id="words", markup=False)
            yield Picture(id="card")

    def on_mount(self) -> None:
        self.table.add_columns("Back to front", "Size")
        super().on_mount()
        self.table.focus()

    @property
    def table(self) -> DataTable[Text]:
        return self.query_one("#pieces", DataTable)

    @property
    def project(self) -> Project:
        assert self.app.session is not None
        return self.app.session.project

    def show(self, session: Session, unit: Unit) -> None:
        row = self.table.cursor_row
        self.table.clear()
        self.table.add_row(Text("card"), Text(write_size(session.project.card.size, unit)))
        for piece in session.project.pieces:
            name = shortened(piece.name, LONGEST_NAME)
            self.table.add_row(Text(name), Text(write_size(piece.size, unit)))
        self.table.move_cursor(row=row)
        self._show_at_hand()

    @on(DataTable.RowHighlighted)
    def _show_at_hand(self) -> None:
        project, piece = self.project, self._piece()
        words = _piece_words(piece, self.app.unit) if piece else _card_words(project.card)
        self.query_one("#words", Static).update(Content("\n".join(words)))

        def draw(columns: int, rows: int) -> Canvas:
            return draw_card(project, None, columns, rows, marked=piece.name if piece else None)

        self.query_one(Picture).show(draw)

    @on(DataTable.RowSelected)
    def action_change_piece(self) -> None:
        piece = self._piece()
        project, unit = self.project, self.app.unit
        self._fill_in(PieceForm(project, unit, piece) if piece else CardForm(project, unit))

    def action_add_piece(self) -> None:
        self._fill_in(PieceForm(self.project, self.app.unit, at=self.table.cursor_row))

    def action_remove_piece(self) -> None:
        if piece := self._piece():
            try:
                self.post_message(ProjectChanged(without_piece(self.project, piece.name)))
            except CraftError as error:
                self.app.say_wrong(str(error))

    def action_bring_forward(self) -> None:
        self._move(1)

    def action_send_back(self) -> None:
        self._move(-1)

    def _move(self, by: int) -> None:
        if piece := self._piece():
            try:
                moved = with_piece_moved(self.project, piece.name, by)
            except CraftError as error:
                self.app.say_wrong(str(error))
                return
            row = moved.pieces.index(piece) + 1
            self.post_message(ProjectChanged(moved))
            self.call_after_refresh(self.table.move_cursor, row=row)

    @work
    async def _fill_in(self, form: ProjectForm) -> None:
        project = await self.app.push_screen_wait(form)
        if project:
            self.post_message(ProjectChanged(project))

    def _piece(self) -> Piece | None:
        """The piece at hand; None for the card, which has the first line."""
        row = self.table.cursor_row
        return self.project.pieces[row - 1] if 0 < row <= len(self.project.pieces) else None


def _card_words(card: Card) -> Iterator[str]:
    folded = "flat" if card.fold == "none" else f"folded {FOLD_WORDS[card.fold]}"
    yield f"{card.count} cards, {folded}"
    yield f"base from {card.paper}"


def _piece_words(piece: Piece, unit: Unit) -> Iterator[str]:
    """The piece in a few lines."""
    yield f"from {', '.join(piece.papers)}"
    yield f"on {piece.on}: {_where(piece.place.x, 'left', unit)}, " + _where(
        piece.place.y, "bottom", unit
    )
    if piece.rounding:
        yield f"round {', '.join(piece.rounding.corners)}"
    if piece.per_card > 1:
        yield f"{piece.per_card} on each card"
    if not piece.needed:
        yield "only where it costs no extra sheet"


def _where(where: str | Length, edge: str, unit: Unit) -> str:
    if isinstance(where, Length):
        return f"{write_exactly(where, unit)} from the {edge}"
    return where
