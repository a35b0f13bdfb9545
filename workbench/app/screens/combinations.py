"""Combinations: which prints meet on which card."""

from collections.abc import Sequence
from itertools import count

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from workbench.app.commands import (
    CardLeft,
    CardRight,
    CloseForm,
    DealAgain,
    Enlarge,
    FewerAcross,
    FixCard,
    MeetPrints,
    MoreAcross,
    SwapPieces,
    WishCards,
    bindings,
)
from workbench.app.screens.mix_forms import LikenessForm, MeetForm, SwapForm
from workbench.app.screens.mix_words import batch_words, card_words, print_lines
from workbench.app.screens.page import PageScreen
from workbench.app.session import Session
from workbench.app.views import ModalView
from workbench.app.widgets.card_grid import CardGrid
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.pictures import Picture
from workbench.app.widgets.plan_line import PlanLine
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.making.words import spans
from workbench.measure.length import Unit
from workbench.planning import Combination, fixed, is_fixed, loosened, swapped, swaps


class CombinationsScreen(PageScreen):
    """All cards as small pictures, beside them the count of each print and the card at hand."""

    CSS_PATH = "combinations.tcss"
    BINDINGS = bindings(
        (Enlarge, FixCard, SwapPieces, MeetPrints, WishCards, DealAgain, MoreAcross, FewerAcross)
    )
    PAGE = "combinations"
    NEEDS_PLAN = True
    ABOUT = (
        "Every card of the batch as a small picture of its prints. No card shows a print twice,"
        " unless you let it."
        " The letters below a picture stand for its papers, listed beside with how many are on"
        " cards and, after a +, left over. =2 says that two cards look so, a star that a card is"
        " fixed. A click goes to a card, another shows it large. Contrast goes from 1:1, where"
        " two papers are equally light, to 21:1, black on white, each print as light as its colours"
        " together; light, middle and dark are shares of the front."
    )

    def body(self) -> ComposeResult:
        yield PlanLine()
        with Horizontal():
            yield CardGrid(id="cards")
            with VerticalScroll(id="beside", can_focus=False):
                yield Static(id="batch", markup=False)
                yield Static(id="prints", markup=False)
                yield Static(id="card", markup=False)

    def on_mount(self) -> None:
        self.query_one(CardGrid).focus()

    @property
    def cards(self) -> Sequence[Combination]:
        session = self.app.session
        return session.plan.combinations if session and session.plan else ()

    def show(self, session: Session, unit: Unit) -> None:
        del unit
        letters = letters_of(session.project)
        self.query_one(CardGrid).show(session.project, self.cards, letters)
        plan = session.plan
        batch = batch_words(session.project, plan) if plan else ""
        self.query_one("#batch", Static).update(batch)
        prints = print_lines(session.project, plan, letters) if plan else ()
        self.query_one("#prints", Static).update(Text("\n").join(prints))
        self._show_at_hand()

    @on(CardGrid.Moved)
    def _show_at_hand(self) -> None:
        card, session = self._card(), self.app.session
        words = card_words(session.project, self.cards, card) if card and session else Text()
        self.query_one("#card", Static).update(words)

    @on(CardGrid.Chosen)
    def action_enlarge(self) -> None:
        if self.query_one(CardGrid).marked is not None:
            self.action_swap_pieces()
        elif self.cards and self.app.session:
            grid = self.query_one(CardGrid)
            self.app.push_screen(CardScreen(self.app.session.project, self.cards, grid))

    def action_more_across(self) -> None:
        self.query_one(CardGrid).change_abreast(1)

    def action_fewer_across(self) -> None:
        self.query_one(CardGrid).change_abreast(-1)

    def action_fix_card(self) -> None:
        card, session = self._card(), self.app.session
        if card and session and session.plan:
            held = is_fixed(session.project, card.card)
            project = loosened(session.project, card.card) if held else fixed(session.project, card)
            self.app.planning.take(session.plan, project)

    def action_deal_again(self) -> None:
        self.app.planning.deal_anew()

    @work
    async def action_wish_cards(self) -> None:
        if session := self.app.session:
            form = LikenessForm(session.project, self.app.unit)
            project = await self.app.push_screen_wait(form)
            if project and project != session.project:
                self.app.planning.plan_by(project)

    @work
    async def action_meet_prints(self) -> None:
        if session := self.app.session:
            form = MeetForm(session.project, self.app.unit)
            if project := await self.app.push_screen_wait(form):
                self.app.planning.deal_by(project)

    def action_swap_pieces(self) -> None:
        """Mark the card at hand; or, where one is marked, swap with that."""
        grid, card = self.query_one(CardGrid), self._card()
        if card is None:
            return
        other = grid.marked
        grid.marked = card.card if other is None else None
        if other is None:
            key = self.app.key_of(SwapPieces)
            able = self._able(card)
            grid.able = frozenset(able)
            self.notify(f"Card {card.card}: {_swap_words(able, key)}")
            return
        grid.able = frozenset()
        self.app.put_notices_away()
        if other != card.card:
            self._swap(card, other)

    def _able(self, card: Combination) -> list[int]:
        """The cards with which a card can swap a piece of any layer."""
        session = self.app.session
        if session is None or session.plan is None:
            return []
        project, plan = session.project, session.plan
        return sorted({n for layer in card.pieces for n in swaps(project, plan, layer, card.card)})

    @work
    async def _swap(self, card: Combination, other: int) -> None:
        session = self.app.session
        if session and session.plan:
            form = SwapForm(session.project, self.app.unit, session.plan, card, other)
            if await self.app.push_screen_wait(form):
                project, plan = swapped(
                    session.project, session.plan, form.swap[0], card.card, form.swap[1]
                )
                self.app.planning.take(plan, project)

    def _card(self) -> Combination | None:
        at = self.query_one(CardGrid).at
        return self.cards[at] if at < len(self.cards) else None


class CardScreen(ModalView[None]):
    """The card at hand as large as it fits; the arrows walk on through the batch."""

    BINDINGS = bindings((CloseForm, CardLeft, CardRight))
    ABOUT = "One card of the batch, drawn to scale."

    def __init__(self, project: Project, cards: Sequence[Combination], grid: CardGrid) -> None:
        super().__init__()
        self.project = project
        self.cards = cards
        self.grid = grid

    def compose(self) -> ComposeResult:
        with Horizontal(id="large"):
            yield Picture(id="picture")
            yield Static(id="words", markup=False)
        yield Keys(show_command_palette=False)

    def on_mount(self) -> None:
        self._show()

    def action_card_left(self) -> None:
        self.grid.action_card_left()
        self._show()

    def action_card_right(self) -> None:
        self.grid.action_card_right()
        self._show()

    def action_close_form(self) -> None:
        self.dismiss()

    def _show(self) -> None:
        card = self.cards[self.grid.at]

        def draw(columns: int, rows: int) -> Canvas:
            return draw_card(self.project, card.pieces, columns, rows)

        self.query_one(Picture).show(draw)
        self.query_one("#words", Static).update(
            card_words(self.project, self.cards, card, full=True)
        )


def _swap_words(able: Sequence[int], key: str) -> str:
    """What is said of a card that waits to swap."""
    if not able:
        return f"no other card can swap a piece with it by the rules; {key} again lets it be."
    return (
        f"it can swap with {spans(able)} (marked ↔): click the card to swap with, or go there "
        f"and press {key}."
    )


def letters_of(project: Project) -> dict[str, str]:
    """A letter (or two, after Z) for each face of a paper that some piece is mixed from."""
    mixed = {name for piece in project.pieces if project.mixed(piece) for name in piece.papers}
    mixable = (paper for paper in project.papers if paper.name in mixed)
    names = (face.name for paper in mixable for face in paper.faces)
    return dict(zip(names, map(_letter, count()), strict=False))


def _letter(number: int) -> str:
    before, last = divmod(number, 26)
    return (_letter(before - 1) if before else "") + chr(ord("A") + last)
