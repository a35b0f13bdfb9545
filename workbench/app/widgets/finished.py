"""The last page of a batch: what was made, and what to keep."""

from collections.abc import Iterator, Sequence
from functools import partial

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from workbench.app.widgets.pictures import Picture
from workbench.drawing.cards import draw_card
from workbench.drawing.figures import tall
from workbench.making.history import History, told
from workbench.making.plan_index import PlanIndex
from workbench.making.stock_update import Leftovers, each_in_words
from workbench.making.words import how_different, taken_words, written_size
from workbench.measure.counting import counted
from workbench.measure.writing import Graduation


class FinishedView(Horizontal):
    """Keeps its place; `show` fills it."""

    def compose(self) -> ComposeResult:
        with VerticalScroll(can_focus=False):
            yield Static(id="made")
        yield Picture(id="card")

    def show(
        self,
        index: PlanIndex,
        graduation: Graduation,
        history: History,
        key: str,
    ) -> None:
        """Show what `index` made, and how it went; `key` keeps the offcuts, "" where none does."""
        lines = [
            *_lines(index, graduation),
            *_offcuts(index, history, graduation, key),
            ("", ""),
            ("Blade latched, glue closed, table clear? Then you are done.", ""),
            *((line, "") for line in told(history)),
        ]
        self.query_one("#made", Static).update(_written(lines))
        first = index.plan.combinations[0].pieces if index.plan.combinations else None
        self.query_one("#card", Picture).show(partial(draw_card, index.project, first))


def _written(lines: Sequence[tuple[str, str]]) -> Text:
    text = Text()
    for line, style in lines:
        text.append(f"{line}\n", style)
    return text


def _lines(index: PlanIndex, graduation: Graduation) -> Iterator[tuple[str, str]]:
    plan, card = index.plan, index.project.card
    yield "Finished", "bold"
    for row in tall(str(plan.cards), ""):
        yield row, "bold"
    size = written_size(card.size, graduation)
    yield f"{counted(plan.cards, 'card')}, {size}, every one put together.", ""
    looks = f"{how_different(plan.different).capitalize()}, from" if plan.cards > 1 else "From"
    yield f"{looks} {taken_words(plan)}.", ""
    yield "", ""


def _offcuts(
    index: PlanIndex, history: History, graduation: Graduation, key: str
) -> Iterator[tuple[str, str]]:
    keep = f"Offcuts to keep: {key} puts them in the stock" if key else "Offcuts to keep"
    yield "Offcuts, in the stock" if history.stocked else keep, "bold"
    offcuts = history.stocked or Leftovers.of(index).lots
    for offcut in offcuts:
        yield each_in_words(offcut, graduation), ""
    if not offcuts:
        yield "None: only scrap is left.", ""
