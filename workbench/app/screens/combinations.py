"""Combinations: which prints meet on which card."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import count

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Footer, Static

from workbench.app.commands import CardLeft, CardRight, CloseForm, Enlarge, bindings
from workbench.app.screens.room import RoomScreen
from workbench.app.session import Session
from workbench.app.widgets.card_grid import CardGrid
from workbench.app.widgets.pictures import Picture
from workbench.app.widgets.plan_line import PlanLine
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.prints import swatch
from workbench.making.words import counted
from workbench.measure.length import Unit
from workbench.planning.plan import Combination


class CombinationsScreen(RoomScreen):
    """All cards as small pictures, beside them the count of each print and the card at hand."""

    CSS_PATH = "combinations.tcss"
    BINDINGS = bindings((Enlarge,))
    ROOM = "combinations"
    NEEDS_PLAN = True
    ABOUT = (
        "Every card of the batch as a small picture of its prints. No card shows a print twice,"
        " and as many cards as possible are different. The letters below a picture stand for its"
        " papers, listed beside."
    )

    def body(self) -> ComposeResult:
        yield PlanLine()
        with Horizontal():
            yield CardGrid(id="cards")
            with VerticalScroll(id="beside", can_focus=False):
                yield Static(id="prints", markup=False)
                yield Static(id="card", markup=False)

    def on_mount(self) -> None:
        super().on_mount()
        self.query_one(CardGrid).focus()

    @property
    def cards(self) -> Sequence[Combination]:
        session = self.app.session
        return session.plan.combinations if session and session.plan else ()

    def show(self, session: Session, unit: Unit) -> None:
        del unit
        self.query_one(PlanLine).show(session)
        letters = letters_of(session.project)
        self.query_one(CardGrid).show(session.project, self.cards, letters)
        words = Text("\n").join(_print_lines(session.project, self.cards, letters))
        self.query_one("#prints", Static).update(words)
        self._show_at_hand()

    @on(CardGrid.Moved)
    def _show_at_hand(self) -> None:
        at = self.query_one(CardGrid).at
        words = card_words(self.cards[at]) if at < len(self.cards) else Text()
        self.query_one("#card", Static).update(words)

    @on(CardGrid.Chosen)
    def action_enlarge(self) -> None:
        if self.cards and self.app.session:
            grid = self.query_one(CardGrid)
            self.app.push_screen(CardScreen(self.app.session.project, self.cards, grid))


class CardScreen(ModalScreen[None]):
    """The card at hand as large as there is room for; the arrows walk on through the batch."""

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
        yield Footer(show_command_palette=False)

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
        self.query_one("#words", Static).update(card_words(card))


def letters_of(project: Project) -> dict[str, str]:
    """A letter (or two, after Z) for each face of a paper that some piece is mixed from."""
    mixed = {name for piece in project.pieces if project.mixed(piece) for name in piece.papers}
    mixable = (paper for paper in project.papers if paper.name in mixed)
    names = (face.name for paper in mixable for face in paper.faces)
    return dict(zip(names, map(_letter, count()), strict=False))


def _letter(number: int) -> str:
    before, last = divmod(number, 26)
    return (_letter(before - 1) if before else "") + chr(ord("A") + last)


def card_words(card: Combination) -> Text:
    lines = [f"Card {card.card}", *(f"{layer}: {paper}" for layer, paper in card.pieces.items())]
    return Text("\n".join(lines))


def _print_lines(
    project: Project, cards: Sequence[Combination], letters: Mapping[str, str]
) -> Iterator[Text]:
    """How many different cards, and how many pieces of each paper."""
    if not cards:
        return
    different = len({tuple(card.pieces.items()) for card in cards})
    yield Text(f"{counted(len(cards), 'card')}, {different} different\n")
    used = Counter(paper for card in cards for paper in card.pieces.values())
    for face in (face for paper in project.papers for face in paper.faces):
        if face.name in used:
            letter = letters.get(face.name, "").rjust(2)
            line = f" {letter} {used[face.name]:>3} × {face.name}"
            yield Text.assemble(swatch(face, 4, 1).to_text(), line)
