"""Pieces: the card and what is layered on it, back to front."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import partial

from textual import on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import DataTable, Static

from workbench.app.commands import (
    AddExtra,
    AddPiece,
    BringForward,
    ChangePiece,
    CopyPiece,
    CutEnvelope,
    EnterEnvelope,
    FitPiece,
    MendPiece,
    NudgeDown,
    NudgeLeft,
    NudgeRight,
    NudgeUp,
    OfferOffcuts,
    OwnSteps,
    RemovePiece,
    ResizeCard,
    SendBack,
    ShowBorders,
    ShowPost,
    SpreadCopies,
    bindings,
)
from workbench.app.edits import with_piece_moved, without_extra, without_piece
from workbench.app.opening import begin_project
from workbench.app.saving import may_close
from workbench.app.screens.fit_forms import FitForm, ResizeForm
from workbench.app.screens.page import PageScreen
from workbench.app.screens.piece_forms import SPREAD_WORDS, CardForm, PieceForm
from workbench.app.screens.piece_words import (
    NOT_YET,
    LookedOver,
    card_words,
    doubt_words,
    extra_words,
    lies_inside,
    look_over,
    piece_words,
)
from workbench.app.screens.post_forms import EnvelopeForm, ExtraForm, OwnEnvelopeForm, PostForm
from workbench.app.session import Session
from workbench.app.widgets.card_picture import CardPicture
from workbench.app.widgets.forms import ProjectForm
from workbench.app.widgets.piece_list import PieceList
from workbench.craft.card import BASE, FRONT, SPREADS
from workbench.craft.errors import CraftError
from workbench.craft.finding import Finding
from workbench.craft.fitting import copied, dragged, nudged, spread_out, without_copy
from workbench.craft.geometry import top_piece_at
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.measure.length import Length, Unit
from workbench.measure.writing import nearest_mark
from workbench.store.errors import StoreError

AT_ONCE = 1_000
"""Pieces times papers up to which a project is looked over between two keys."""


class PiecesScreen(PageScreen):
    """A line for the card and each piece; beside it the card, the piece at hand made out.

    What is doubtful is marked in its line and told below, with the mend that a key makes.
    """

    CSS_PATH = "pieces.tcss"
    BINDINGS = bindings(
        (
            ChangePiece,
            AddPiece,
            RemovePiece,
            FitPiece,
            MendPiece,
            ShowPost,
            AddExtra,
            EnterEnvelope,
            CutEnvelope,
            CopyPiece,
            BringForward,
            SendBack,
            NudgeLeft,
            NudgeRight,
            NudgeUp,
            NudgeDown,
            ShowBorders,
            ResizeCard,
            OwnSteps,
            SpreadCopies,
            OfferOffcuts,
        )
    )
    PAGE = "pieces"
    ABOUT = (
        "The card and its pieces, from the back to the front, with the card drawn to scale beside"
        " them. Where a piece may be cut from several papers, one is drawn. An exclamation mark"
        " stands beside what may not be meant; why, and how to mend it, is told below, and then"
        " what the card weighs and how it goes by post. Extras stand last. A click on"
        " the picture takes up a piece, and the mouse drags it from mark to mark of your rule."
    )

    class Seen(Message):
        """A project was looked over."""

        def __init__(self, project: Project, seen: LookedOver) -> None:
            super().__init__()
            self.project, self.seen = project, seen

    def __init__(self) -> None:
        super().__init__()
        self._doubts: Sequence[Finding] = ()
        self._measured = False
        self._dragged: Project | None = None
        self._held = 1

    def body(self) -> ComposeResult:
        with Horizontal():
            with Vertical(id="layers"):
                yield PieceList(id="pieces")
                with VerticalScroll(id="told", can_focus=False):
                    yield Static(id="words", markup=False)
                    yield Static(id="doubts", markup=False)
                    yield Static(id="post", markup=False)
            yield CardPicture(id="card")

    def on_mount(self) -> None:
        self.table.focus()

    @property
    def table(self) -> PieceList:
        return self.query_one(PieceList)

    def show(self, session: Session, unit: Unit) -> None:
        project, app = session.project, self.app
        preferences, key = app.kept_preferences(), app.key_of(ShowPost)
        look = partial(look_over, project, preferences, app.post_desk(), unit, key)
        if len(project.pieces) * len(project.papers) <= AT_ONCE:
            self._fill(look())
        else:
            self._fill(NOT_YET)
            self._look_over(project, look)

    @work(thread=True, exclusive=True, group="looking over")
    def _look_over(self, project: Project, look: Callable[[], LookedOver]) -> None:
        self.post_message(self.Seen(project, look()))

    @on(Seen)
    def _take_note(self, message: Seen) -> None:
        session = self.app.session
        if session and message.project is session.project:
            self._fill(message.seen)

    def _fill(self, seen: LookedOver) -> None:
        self._doubts = seen.doubts
        self.table.fill({doubt.piece for doubt in self._doubts})
        self._show_at_hand()
        self.query_one("#post", Static).update(Content("\n".join(seen.post)))

    @on(DataTable.RowHighlighted)
    def _show_at_hand(self) -> None:
        project, piece = self.project, self.table.piece
        extra = self.table.extra
        if piece:
            key = self.app.key_of(OfferOffcuts)
            words = piece_words(project, piece, self.table.number, self.app.unit, key)
        else:
            words = extra_words(extra) if extra else card_words(project.card)
        self.query_one("#words", Static).update(Content("\n".join(words)))
        name = piece.name if piece else BASE
        doubts = "\n".join(doubt_words(self._doubts, name, self.app.key_of(MendPiece)))
        self.query_one("#doubts", Static).update(Content(doubts))
        self._draw(project)

    def _draw(self, project: Project) -> None:
        """The card as it is in `project`, which may be a piece on its way."""
        piece = self.table.piece
        marked = piece.name if piece else None
        inside = self._sees_inside()
        unit = self.app.unit if self._measured else None
        number = self.table.number if piece and piece.spread == "placed" else None

        def draw(columns: int, rows: int) -> Canvas:
            return draw_card(
                project,
                None,
                columns,
                rows,
                marked=marked,
                number=number,
                measured=unit,
                inside=inside,
            )

        self.query_one(CardPicture).show(draw)

    @on(CardPicture.Pressed)
    def _take_up(self, event: CardPicture.Pressed) -> None:
        front = self.project.card.size
        x, y = front.width * event.across, front.height * event.up
        copy = top_piece_at(self.project, x, y, inside=self._sees_inside())
        self._held = copy.number if copy else 1
        row = 0
        if copy:
            number = copy.number if copy.piece.spread == "placed" else 1
            row = self.table.row_of(copy.piece, number)
        self.table.move_cursor(row=row)
        self.table.focus()

    @on(CardPicture.Dragged)
    def _drag(self, event: CardPicture.Dragged) -> None:
        """Move the piece at hand with the mouse, from mark to mark of the rule."""
        piece, front = self.table.piece, self.project.card.size
        if piece and (event.right or event.up):
            right = self._marked(front.width * event.right)
            up = self._marked(front.height * event.up)
            with suppress(CraftError):  # beyond the edge of what it lies on, it stays
                self._dragged = dragged(self.project, piece.name, right, up, self._held)
                self._draw(self._dragged)
        if event.dropped and self._dragged:
            dropped, self._dragged = self._dragged, None
            self._change(lambda: dropped)

    def _marked(self, length: Length) -> Length:
        return nearest_mark(length, self.app.trimmer().graduations[self.app.unit]).mark

    def _sees_inside(self) -> bool:
        piece = self.table.piece
        return piece is not None and lies_inside(self.project, piece.name)

    @on(DataTable.RowSelected)
    def action_change_piece(self) -> None:
        piece, extra = self.table.piece, self.table.extra
        project, unit = self.project, self.app.unit
        if extra:
            self._fill_in(ExtraForm(project, unit, extra))
        else:
            self._fill_in(PieceForm(project, unit, piece) if piece else CardForm(project, unit))

    def action_add_extra(self) -> None:
        piece = self.table.piece
        on = piece.name if piece else FRONT
        self._fill_in(ExtraForm(self.project, self.app.unit, on=on))

    def action_show_post(self) -> None:
        self._fill_in(PostForm(self.project, self.app.unit, self.app.post_desk()))

    def action_add_piece(self) -> None:
        piece = self.table.piece
        pieces = self.project.pieces
        at = pieces.index(piece) + 1 if piece else 0 if not self.table.extra else len(pieces)
        self._fill_in(PieceForm(self.project, self.app.unit, at=at), at)

    def action_enter_envelope(self) -> None:
        self._fill_in(OwnEnvelopeForm(self.project, self.app.unit))

    def action_cut_envelope(self) -> None:
        self._fill_in(EnvelopeForm(self.project, self.app.unit, self.app.post_desk().clearance))

    def action_remove_piece(self) -> None:
        if piece := self.table.piece:
            number = self.table.number
            if piece.per_card > 1 and piece.spread == "placed":
                self._change(lambda: without_copy(self.project, piece.name, number))
            else:
                self._change(lambda: without_piece(self.project, piece.name))
        elif extra := self.table.extra:
            self._change(lambda: without_extra(self.project, extra.name))

    def action_copy_piece(self) -> None:
        if piece := self.table.piece:
            down = 1 if piece.spread != "placed" else piece.per_card - self.table.number + 1
            self._change(lambda: copied(self.project, piece.name), down=down)

    def action_fit_piece(self) -> None:
        piece = self.table.piece
        if piece and not piece.is_apart:
            self._fill_in(FitForm(self.project, self.app.unit, piece, self.table.number))

    def action_mend_piece(self) -> None:
        at_hand = self.table.piece
        name = at_hand.name if at_hand else BASE
        mendable = [doubt for doubt in self._doubts if doubt.mended]
        mine = [doubt for doubt in mendable if doubt.piece == name]
        for doubt in (mine or mendable)[:1]:
            self.notify(f"{doubt.piece}: {doubt.mend}", markup=False)
            if doubt.mended:
                self.app.change_project(doubt.mended)

    def action_own_steps(self) -> None:
        from workbench.app.screens.own_steps import OwnStepsScreen

        piece = self.table.piece
        self.app.push_screen(OwnStepsScreen(piece.name if piece else FRONT))

    @work
    async def action_offer_offcuts(self) -> None:
        from workbench.app.screens.offers import project_with_offer

        try:
            if taken := await project_with_offer(self.app, self.project, self.table.piece):
                self._change(lambda: taken)
        except (StoreError, CraftError) as error:
            self.app.say_wrong(str(error))

    def action_spread_copies(self) -> None:
        piece = self.table.piece
        if piece and piece.per_card > 1:
            after = SPREADS[(SPREADS.index(piece.spread) + 1) % len(SPREADS)]
            self._change(lambda: spread_out(self.project, piece.name, after))
            self.notify(f"{piece.name}: {SPREAD_WORDS[after]}", markup=False)

    def action_show_borders(self) -> None:
        self._measured = not self._measured
        self._draw(self.project)

    def action_bring_forward(self) -> None:
        self._move(1)

    def action_send_back(self) -> None:
        self._move(-1)

    def action_nudge_left(self) -> None:
        self._nudge(-1, 0)

    def action_nudge_right(self) -> None:
        self._nudge(1, 0)

    def action_nudge_up(self) -> None:
        self._nudge(0, 1)

    def action_nudge_down(self) -> None:
        self._nudge(0, -1)

    @work
    async def action_resize_card(self) -> None:
        project = await self.app.push_screen_wait(ResizeForm(self.project, self.app.unit))
        if project and await may_close(self.app):
            begin_project(self.app, project)

    def _move(self, by: int) -> None:
        if piece := self.table.piece:
            number = self.table.number
            self._change(lambda: with_piece_moved(self.project, piece.name, by))
            moved = self.project.piece(piece.name)
            row = self.table.row_of(moved, number)
            self.call_after_refresh(self.table.move_cursor, row=row)

    def _nudge(self, right: int, up: int) -> None:
        piece = self.table.piece
        if piece and not piece.is_apart:
            mark = self.app.trimmer().graduations[self.app.unit].interval
            number = self.table.number
            self._change(lambda: nudged(self.project, piece.name, mark * right, mark * up, number))

    def _change(self, edit: Callable[[], Project], down: int = 0) -> None:
        """Make an edit, or say why not, and go `down` so many lines."""
        try:
            project = edit()
        except CraftError as error:
            self.app.say_wrong(str(error))
            return
        if project != self.project:
            self.app.change_project(project)
        if down:
            row = self.table.cursor_row + down
            self.call_after_refresh(self.table.move_cursor, row=row)

    @work
    async def _fill_in(self, form: ProjectForm, added: int | None = None) -> None:
        """Keep what the form says, and go to the piece it `added`: the next one goes upon that."""
        project = await self.app.push_screen_wait(form)
        if not project:
            return
        self.app.change_project(project)
        if added is not None:
            row = self.table.row_of(project.pieces[added], 1)
            self.call_after_refresh(self.table.move_cursor, row=row)
