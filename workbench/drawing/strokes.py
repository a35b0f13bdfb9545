"""The cuts of a plan as a table, one line for strokes that do the same thing."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text

from workbench.craft.paper import Size
from workbench.drawing.labels import bare_size, write_short
from workbench.drawing.unbroken import unbroken
from workbench.making.plan_index import PlanIndex
from workbench.making.words import shortlist, spans
from workbench.measure.length import Unit
from workbench.planning import Cut, PartId


@dataclass(frozen=True, slots=True)
class _Kind:
    """Parts of one name and size, wherever they come from."""

    name: str
    size: Size
    finished: bool
    papers: tuple[str, ...]
    count: int

    def words(self, unit: Unit) -> Text:
        """A finished piece is known by its name, everything else by its size as well."""
        if self.finished:
            return Text(f"{self.count} × {self.name}", style="bold")
        return Text(f"{self.count} × {self.name} {unbroken(bare_size(self.size, unit))}")


def table_of_cuts(index: PlanIndex) -> Table:
    """The cuts of the plan in order, by setting of the guide: what is cut at it, what comes off."""
    table = plain_table("set to", "steps", "along", "take", "comes off")
    for _, setting in groupby(index.plan.cuts, key=lambda step: step.mark):
        _add_setting(table, index, list(setting))
    return table


def plain_table(*columns: str) -> Table:
    """A table without frame under these headings.

    Its cells must be rich `Text`, so that no name from a file is taken for markup.
    """
    table = Table(
        box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0), header_style="dim"
    )
    for column in columns:
        table.add_column(Text(column))
    return table


def _add_setting(table: Table, index: PlanIndex, setting: Sequence[Cut]) -> None:
    unit = index.project.units
    shown = f"{write_short(setting[0].mark, unit)} {unit}"
    known: dict[object, object] = {}

    def doing(stroke: Cut) -> object:
        alike = (stroke.measure, *(index.likeness(first) for first, _ in stroke.gives))
        if alike not in known:
            known[alike] = _doing(index, stroke)
        return known[alike]

    for _, alike in groupby(setting, key=doing):
        strokes = list(alike)
        table.add_row(
            Text(shown, style="bold"),
            Text(spans([stroke.n for stroke in strokes])),
            Text(strokes[0].measure),
            _taken(index, strokes),
            _given(index, strokes),
        )
        shown = ""
    table.add_section()


def _doing(index: PlanIndex, stroke: Cut) -> tuple[object, ...]:
    """What strokes share that stand on one line: the side measured, and what is measured off."""
    firsts = _kinds(index, (first for first, _ in stroke.gives))
    return (stroke.measure, *((kind.name, kind.size) for kind in firsts))


def _taken(index: PlanIndex, strokes: Sequence[Cut]) -> Text:
    """What must lie ready: not what these strokes make themselves."""
    made = {label for stroke in strokes for pair in stroke.gives for label in pair}
    ready = (label for stroke in strokes for label in stroke.takes if label not in made)
    text = Text()
    for kind in _kinds(index, ready):
        text.append_text(kind.words(index.project.units))
        text.append(f"\n{shortlist(kind.papers)}\n", "dim")
    at_once = max(len(stroke.takes) for stroke in strokes)
    if at_once > 1:
        text.append(f"{at_once} at once")
    text.rstrip()
    return text


def _given(index: PlanIndex, strokes: Sequence[Cut]) -> Text:
    """What these strokes leave, finished pieces in bold; scrap goes without saying."""
    taken = {label for stroke in strokes for label in stroke.takes}
    left = (
        label
        for stroke in strokes
        for pair in stroke.gives
        for label in pair
        if label not in taken and not index.is_scrap(label)
    )
    return Text("\n").join(kind.words(index.project.units) for kind in _kinds(index, left))


def _kinds(index: PlanIndex, labels: Iterable[PartId]) -> Iterator[_Kind]:
    lots = sorted(index.lots(labels), key=lambda lot: lot.role != "piece")
    seen = dict.fromkeys((lot.name, lot.size) for lot in lots)
    for name, size in seen:
        same = [lot for lot in lots if (lot.name, lot.size) == (name, size)]
        papers = dict.fromkeys(paper for lot in same for paper in lot.papers)
        yield _Kind(
            name, size, same[0].role == "piece", tuple(papers), sum(lot.count for lot in same)
        )
