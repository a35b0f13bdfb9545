"""The cards of a batch as small pictures, as many abreast as fit."""

from collections.abc import Iterator, Mapping, Sequence

from rich.segment import Segment
from textual import events
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from workbench.app.commands import CardDown, CardLeft, CardRight, CardUp, bindings
from workbench.craft.paper import Size as PaperSize
from workbench.craft.project import Project
from workbench.drawing.canvas import Box, Canvas, Cell, fit, shortened, style_of
from workbench.drawing.cards import draw_card
from workbench.planning import Combination, is_fixed, repeats

USUAL = 14
"""Columns of a picture, where larger ones of all cards do not fit on the page."""
SMALLEST = 8
"""Columns of a picture whose prints can just be told apart."""


class CardGrid(ScrollView, can_focus=True):
    """Draws only the rows of cards that are seen, so that the largest batch scrolls at once."""

    DEFAULT_CSS = "CardGrid { width: 1fr; height: 1fr; overflow: hidden auto; }"
    BINDINGS = bindings((CardLeft, CardRight, CardUp, CardDown))
    at: reactive[int] = reactive(0)
    marked: reactive[int | None] = reactive(None)
    """The number of the card that waits to swap."""
    able: reactive[frozenset[int]] = reactive(frozenset)
    """The numbers of the cards that can swap with it."""

    class Moved(Message):
        """Another card is at hand."""

    class Chosen(Message):
        """The card at hand was clicked again, or one to swap with."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._project: Project | None = None
        self._cards: Sequence[Combination] = ()
        self._letters: Mapping[str, str] = {}
        self._repeats: Mapping[int, Sequence[int]] = {}
        self._rows: dict[int, Canvas] = {}
        self._picture = Size(USUAL, 1)
        self._wanted: int | None = None

    def show(
        self, project: Project, cards: Sequence[Combination], letters: Mapping[str, str]
    ) -> None:
        """Show `cards`; `letters` stand for papers in the captions."""
        self._project, self._cards, self._letters = project, cards, letters
        self._repeats = repeats(cards)
        self.marked = None
        self.able = frozenset()
        self.at = min(self.at, max(0, len(cards) - 1))
        self._arrange()

    def render_line(self, y: int) -> Strip:
        row, line = divmod(y + round(self.scroll_y), self._cell.height)
        width = self.size.width
        if row * self._abreast >= len(self._cards):
            return Strip.blank(width, self.rich_style)
        if row not in self._rows:
            self._rows[row] = self._draw_row(row)
        segments = [
            Segment(text, self.rich_style + style_of(cell))
            for text, cell in self._rows[row].runs(line)
        ]
        return Strip(segments).adjust_cell_length(width, self.rich_style)

    def watch_at(self, before: int, now: int) -> None:
        self._forget(before, now)
        row = now // self._abreast
        self.scroll_to_region(
            Region(0, row * self._cell.height, 1, self._cell.height),
            animate=False,
            force=True,
            immediate=True,
        )
        self.post_message(self.Moved())

    def watch_marked(self) -> None:
        self._rows.clear()
        self.refresh()

    def watch_able(self) -> None:
        self._rows.clear()
        self.refresh()

    def on_resize(self) -> None:
        self._arrange()

    def on_click(self, event: events.Click) -> None:
        column, row = (
            event.x // self._cell.width,
            (event.y + round(self.scroll_y)) // self._cell.height,
        )
        card = row * self._abreast + column
        if column >= self._abreast or card >= len(self._cards):
            return
        again = card == self.at
        self.at = card
        if again or self.marked is not None:
            self.post_message(self.Chosen())

    def change_abreast(self, by: int) -> None:
        """Show so many more cards abreast, from one to as many as can still be made out."""
        most = max(1, self.size.width // (SMALLEST + 2))
        self._wanted = min(max(1, self._abreast + by), most)
        self._arrange()
        self.watch_at(self.at, self.at)

    def action_card_left(self) -> None:
        self._go(self.at - 1)

    def action_card_right(self) -> None:
        self._go(self.at + 1)

    def action_card_up(self) -> None:
        self._go(self.at - self._abreast)

    def action_card_down(self) -> None:
        self._go(self.at + self._abreast)

    @property
    def _cell(self) -> Size:
        """What a picture takes with its caption and the gaps around it."""
        return Size(self._picture.width + 2, self._picture.height + 2)

    @property
    def _abreast(self) -> int:
        return self._wanted or max(1, self.size.width // self._cell.width)

    def _go(self, to: int) -> None:
        if 0 <= to < len(self._cards):
            self.at = to

    def _arrange(self) -> None:
        if self._project is None:
            return
        rows = 0
        for size in self._sizes(self._project.card.size):
            self._picture = size
            rows = -(-len(self._cards) // self._abreast)
            if rows * self._cell.height <= self.container_size.height:
                break
        self.virtual_size = Size(self.size.width, rows * self._cell.height)
        self._rows.clear()
        self.refresh()

    def _sizes(self, card: PaperSize) -> Iterator[Size]:
        """The sizes to try for a picture, from the largest that there is room for.

        One alone where the maker chose how many abreast.
        """
        height = max(1, self.size.height - 2)
        if self._wanted:
            width = max(SMALLEST, self.size.width // self._wanted - 2)
            yield Size(width, fit(card, width, height)[1])
            return
        largest = fit(card, max(USUAL, self.size.width - 2), height)[0]
        for width in range(max(USUAL, largest), USUAL - 1, -1):
            yield Size(width, fit(card, width, height)[1])

    def _forget(self, *cards: int) -> None:
        for card in cards:
            self._rows.pop(card // self._abreast, None)
        self.refresh()

    def _draw_row(self, row: int) -> Canvas:
        canvas = Canvas(self._abreast * self._cell.width, self._cell.height)
        first = row * self._abreast
        for column, card in enumerate(self._cards[first : first + self._abreast]):
            self._draw_card(
                canvas, column * self._cell.width + 1, card, at_hand=first + column == self.at
            )
        return canvas

    def _draw_card(self, canvas: Canvas, x: int, card: Combination, *, at_hand: bool) -> None:
        assert self._project is not None
        width, height = self._picture
        picture = draw_card(self._project, card.pieces, width, height)
        canvas.paste(picture, x + (width - picture.width) // 2, 0)
        letters = "".join(self._letters.get(paper, "") for paper in card.pieces.values())
        held = "*" if is_fixed(self._project, card.card) else ""
        repeated = f" ={len(self._repeats[card.card])}" if card.card in self._repeats else ""
        able = "↔" if card.card in self.able else " "
        sign = "⇄" if card.card == self.marked else "▶" if at_hand else able
        caption = f"{sign}{card.card}{held} {letters}{repeated}"
        look = Cell(bold=at_hand, reverse=at_hand)
        canvas.fill(Box(x, height, width, 1), look)
        canvas.text(x, height, shortened(caption, width), look)
