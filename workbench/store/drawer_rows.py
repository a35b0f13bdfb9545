"""The drawer as rows to search and sort: thousands of them, each told only when it is seen."""

from collections.abc import Sequence
from typing import Literal, NamedTuple, get_args

from workbench.craft.paper import Size
from workbench.craft.stock import Counts
from workbench.measure.reading import read_exact
from workbench.store.drawer_lines import Listing, OffcutLine, PaperLine

Order = Literal["name", "most free", "place", "kind", "offcuts"]
ORDERS: tuple[Order, ...] = get_args(Order)


class DrawerRow(NamedTuple):
    """A paper, or offcuts of it, in the list.

    Attributes:
        paper: the paper; of offcuts theirs.
        offcut: the offcuts, None for the paper itself.
        search: all words it is found by, in small letters.
    """

    paper: PaperLine
    offcut: OffcutLine | None
    search: str

    @property
    def counts(self) -> Counts:
        """What became of its sheets, or of the offcuts."""
        return self.offcut.counts if self.offcut else self.paper.counts

    @property
    def size(self) -> Size:
        """Of a sheet, or of an offcut."""
        if self.offcut:
            return self.offcut.measures
        data = self.paper.data
        return Size(read_exact(data.width), read_exact(data.height))


def rows_of(listing: Listing) -> tuple[DrawerRow, ...]:
    """Every paper by name, each with its offcuts after it."""
    offcuts: dict[int, list[OffcutLine]] = {}
    for line in listing.offcuts:
        offcuts.setdefault(line.paper, []).append(line)
    rows = []
    for paper in listing.papers:
        words = paper.data.search_text
        rows.append(DrawerRow(paper, None, words))
        rows += [DrawerRow(paper, line, f"offcut\n{words}") for line in offcuts.get(paper.id, ())]
    return tuple(rows)


def found(rows: Sequence[DrawerRow], typed: str) -> Sequence[DrawerRow]:
    """The rows that hold every word that was typed."""
    for word in typed.casefold().split():
        rows = [row for row in rows if word in row.search]
    return rows


def in_order(rows: Sequence[DrawerRow], order: Order) -> Sequence[DrawerRow]:
    """The rows in another order than by name; those alike stay as they are."""
    if order == "most free":
        return sorted(rows, key=lambda row: -row.counts.on_hand)
    if order == "place":
        return sorted(rows, key=lambda row: (not row.paper.data.lies, row.paper.data.lies))
    if order == "offcuts":
        having = {row.paper.id for row in rows if row.offcut and row.offcut.counts.on_hand}
        return sorted(rows, key=lambda row: row.paper.id not in having)
    if order == "kind":
        return sorted(rows, key=lambda row: (row.offcut is not None, row.paper.data.kind))
    return rows
