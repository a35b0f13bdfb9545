"""What becomes of each row of a file of stock beside what is in the drawer, told beforehand."""

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Literal, NamedTuple

from workbench.craft.errors import LONGEST_NAME
from workbench.craft.paper import Offcut, Size
from workbench.craft.stock import StockPaper
from workbench.making.words import listed
from workbench.measure.length import Unit
from workbench.store.errors import cut_short, shown
from workbench.store.stock_files import read_rows
from workbench.store.stock_rows import (
    OFFCUT_OF,
    Row,
    RowError,
    RowReader,
    alike,
    differences,
    paper_row,
)

Fate = Literal["added", "described anew", "counted again", "as it is", "refused"]
# Where more papers than this have a name, kind and size, a row must say just which it speaks of.
_MOST_NAMESAKES = 50
_LONGEST = 300


class RowPreview(NamedTuple):
    """What becomes of one row of a file.

    Attributes:
        place: where it stands, "row 3" or "papers[2]".
        name: of its paper.
        fate: what becomes of it.
        why: what is wrong with it, what is there now and what shall be, or how it differs from
            what bears its name.
        read: what it says, and of a paper of the drawer what that says besides; None where it is
            refused.
        known: the id of the drawer's paper that it speaks of, None where it has none yet.
    """

    place: str
    name: str
    fate: Fate
    why: str = ""
    read: StockPaper | Offcut | None = None
    known: int | None = None


class Known(NamedTuple):
    """A paper that is in the drawer, and how many free offcuts of it there are of each size."""

    id: int
    stock: StockPaper
    offcuts: Mapping[Size, int] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Preview:
    """Every row of a file with its fate, in the file's order. Where one is refused none goes in."""

    rows: tuple[RowPreview, ...]

    @property
    def refused(self) -> tuple[RowPreview, ...]:
        """The rows that cannot be read."""
        return tuple(row for row in self.rows if row.fate == "refused")

    @property
    def in_words(self) -> str:
        """How many rows have which fate."""
        counts = Counter(row.fate for row in self.rows)
        return ", ".join(f"{count} {fate}" for fate, count in counts.items()) or "no rows"


def preview(
    path: Path, papers: Iterable[Known], *, unit: Unit = "in", currency: str = "EUR"
) -> Preview:
    """Read a file of stock beside what is in the drawer, and write nothing.

    A row speaks of the paper of the drawer beside which it says nothing else; failing that, of the
    one paper of its name, kind and size that no other row speaks of, which is described anew. Of
    what a row leaves blank the drawer's description stands. Offcuts of a size that the drawer has
    are counted again, all rows of a size together.

    Args:
        path: a CSV or a TOML file.
        papers: those in the drawer.
        unit: of bare numbers in it.
        currency: of bare prices in it.

    Returns:
        The fate of each of its rows.

    Raises:
        StockFileError: where the file as a whole cannot be read.
    """
    beside = _Beside(papers, RowReader(unit, currency))
    return Preview(beside.fates(read_rows(path)))


class _Said(NamedTuple):
    """A row that describes a paper: its place in the file, its words, what it says by itself."""

    at: int
    place: str
    row: Row
    read: StockPaper


class _Beside:
    """The papers of the drawer, and the reader of the rows beside them."""

    def __init__(self, papers: Iterable[Known], reader: RowReader) -> None:
        self._papers = tuple(papers)
        self._reader = reader
        self._named = _grouped(self._papers, lambda stock: stock.paper.name)

    def fates(self, rows: Sequence[tuple[str, Row]]) -> tuple[RowPreview, ...]:
        """The fate of each of the rows, given with their places, in their order."""
        found: dict[int, RowPreview] = {}
        papers: list[_Said] = []
        offcuts: list[tuple[int, str, Offcut]] = []
        for at, (place, row) in enumerate(rows):
            try:
                read = self._reader.read(row)
            except RowError as error:
                name = cut_short(row.get("name") or row.get(OFFCUT_OF) or "", LONGEST_NAME)
                found[at] = RowPreview(place, name, "refused", cut_short(str(error), _LONGEST))
                continue
            if isinstance(read, Offcut):
                offcuts.append((at, place, read))
            else:
                papers.append(_Said(at, place, row, read))
        meant = self._meant(papers)
        found |= {said.at: self._paper(said, meant.get(said.at)) for said in papers}
        rows_of = {said.read.paper.name: meant.get(said.at) for said in reversed(papers)}
        totals: Counter[tuple[str, Size]] = Counter()
        for _, _, read in offcuts:
            totals[read.paper, read.size] += read.count
        for at, place, read in offcuts:
            found[at] = self._offcut(place, read, rows_of, totals[read.paper, read.size])
        return tuple(found[at] for at in range(len(rows)))

    def _offcut(
        self, place: str, read: Offcut, rows_of: Mapping[str, Known | None], now: int
    ) -> RowPreview:
        """`rows_of` are the papers of rows, None where new; `now` such offcuts are told in all."""
        there = self._named.get(read.paper, [])
        if len(there) != 1 and read.paper not in rows_of:
            why = "several papers of the drawer are" if there else "no paper here or there is"
            return RowPreview(place, read.paper, "refused", f"{why} called {shown(read.paper)}")
        paper = rows_of[read.paper] if read.paper in rows_of else there[0]
        known = paper.id if paper else None
        was = paper.offcuts.get(read.size, 0) if paper else 0
        if not was:
            return RowPreview(place, read.paper, "added", "", read, known)
        if was == now:
            return RowPreview(place, read.paper, "as it is", "", read, known)
        return RowPreview(place, read.paper, "counted again", f"{was} → {now}", read, known)

    def _meant(self, papers: Sequence[_Said]) -> dict[int, Known]:
        """The paper of the drawer that each row speaks of, if any; each is met by one row alone.

        Rows that say just what the drawer says go first, and of those the ones with its number of
        sheets; then those that say nothing else; then those for which just one paper is left.
        """
        found: dict[int, Known] = {}
        met: set[int] = set()

        def meet(said: _Said, paper: Known | None) -> None:
            if paper:
                found[said.at] = paper
                met.add(paper.id)

        for by in (_itself, _description):
            # Each is looked at once, however many there are that say the same.
            waiting = {key: iter(alike) for key, alike in _grouped(self._papers, by).items()}
            for said in papers:
                if said.at not in found:
                    alike = waiting.get(by(said.read), iter(()))
                    meet(said, next((one for one in alike if one.id not in met), None))
        there = _grouped(self._papers, _sort)
        for choose in (self._saying_nothing_else, _only):
            for said in papers:
                near = there.get(_sort(said.read), [])
                if said.at not in found and len(near) <= _MOST_NAMESAKES:
                    meet(said, choose([one for one in near if one.id not in met], said))
        return found

    def _saying_nothing_else(self, papers: Sequence[Known], said: _Said) -> Known | None:
        """The first paper beside which the row says nothing else."""
        return next((one for one in papers if alike(one.stock, self._over(one, said))), None)

    def _over(self, paper: Known, said: _Said) -> StockPaper:
        """What the row says, and where it is blank what the drawer's paper says."""
        read = self._reader.read({**paper_row(paper.stock), **said.row})
        assert isinstance(read, StockPaper)
        return read

    def _paper(self, said: _Said, meant: Known | None) -> RowPreview:
        name = said.read.paper.name
        if meant is None:
            there = self._named.get(name, [])[:_MOST_NAMESAKES]
            near = min((differences(one.stock, said.read) for one in there), key=len, default=())
            why = f"one of that name is there too; they differ in {listed(near)}" if near else ""
            return RowPreview(said.place, name, "added", why, said.read)
        read = said.read if alike(meant.stock, said.read) else self._over(meant, said)
        was, now = paper_row(meant.stock), paper_row(read)
        changes = [
            f"{column}: {_short(was[column])} → {_short(now[column])}"
            for column in differences(meant.stock, read)
        ]
        counts = f"{was['sheets']} → {now['sheets']}" if was["sheets"] != now["sheets"] else ""
        if not changes:
            fate: Fate = "counted again" if counts else "as it is"
            return RowPreview(said.place, name, fate, counts, read, meant.id)
        why = ", ".join([*changes, *([f"sheets: {counts}"] if counts else [])])
        return RowPreview(said.place, name, "described anew", why, read, meant.id)


def _short(cell: str) -> str:
    return cut_short(cell, LONGEST_NAME) or "none"


def _only(papers: Sequence[Known], _: _Said) -> Known | None:
    """The paper, where there is just one."""
    return papers[0] if len(papers) == 1 else None


def _itself(stock: StockPaper) -> Hashable:
    return stock


def _description(stock: StockPaper) -> Hashable:
    return stock.description


def _sort(stock: StockPaper) -> Hashable:
    return stock.paper.name, stock.paper.kind, stock.paper.size


def _grouped(
    papers: Iterable[Known], by: Callable[[StockPaper], Hashable]
) -> dict[Hashable, list[Known]]:
    """The papers that have the same in common, in their order."""
    found: dict[Hashable, list[Known]] = {}
    for paper in papers:
        found.setdefault(by(paper.stock), []).append(paper)
    return found
