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
from workbench.making.bench import Bench
from workbench.making.events import Event, Mend
from workbench.making.pace import at_the_table
from workbench.making.words import counted, listed, written_size
from workbench.measure.writing import Graduation


class FinishedView(Horizontal):
    """Keeps its place; `show` fills it."""

    def compose(self) -> ComposeResult:
        with VerticalScroll(can_focus=False):
            yield Static(id="made")
        yield Picture(id="card")

    def show(
        self,
        bench: Bench,
        graduation: Graduation,
        events: Sequence[Event],
        mends: Sequence[Mend],
    ) -> None:
        """Show what `bench` made; `events` and the `mends` that stand are its record."""
        lines = (*_lines(bench, graduation), *_recorded(events, mends))
        self.query_one("#made", Static).update(_written(lines))
        first = bench.plan.combinations[0].pieces if bench.plan.combinations else None
        self.query_one("#card", Picture).show(partial(draw_card, bench.project, first))


def _written(lines: Sequence[tuple[str, str]]) -> Text:
    text = Text()
    for line, style in lines:
        text.append(f"{line}\n", style)
    return text


def _lines(bench: Bench, graduation: Graduation) -> Iterator[tuple[str, str]]:
    plan, card = bench.plan, bench.project.card
    yield "Finished", "bold"
    for row in tall(str(plan.cards), ""):
        yield row, "bold"
    size = written_size(card.size, graduation)
    yield f"{counted(plan.cards, 'card')}, {size}, every one put together.", ""
    yield f"{_different(bench)} different, from {counted(plan.totals.sheets, 'sheet')}.", ""
    yield "", ""
    yield "Offcuts to keep", "bold"
    offcuts = bench.offcuts()
    for lot in offcuts:
        yield f"{lot.count} × {written_size(lot.size, graduation)}, {listed(lot.papers)}", ""
    if not offcuts:
        yield "None: only scrap is left.", ""
    yield "", ""
    yield "Blade latched, glue closed, table clear? Then you are done.", ""


def _recorded(events: Sequence[Event], mends: Sequence[Mend]) -> Iterator[tuple[str, str]]:
    """The evenings as they went: time at the table, slips and their mends, notes."""
    minutes = round(at_the_table(events).total_seconds() / 60)
    if minutes:
        yield f"{minutes} minute{'' if minutes == 1 else 's'} at the table.", ""
    for mend in mends:
        yield f"Slip, {mend.slip}: {mend.way[0].lower()}{mend.way[1:]}.", ""
    for event in events:
        if event.note:
            yield f"Note: {event.note}", ""


def _different(bench: Bench) -> int:
    return len({tuple(sorted(card.pieces.items())) for card in bench.plan.combinations})
