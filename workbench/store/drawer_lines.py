"""What lies in the drawer, line by line, as the workshop's tables hold it."""

import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import NamedTuple

from workbench.craft.paper import Paper, Size
from workbench.craft.stock import Counts, StockPaper
from workbench.store.errors import WorkshopError, shown
from workbench.store.lots import Lot, lot
from workbench.store.stock_data import StockData, size_kept, stock_data, stock_paper

# Thousands of lots have the same few counts.
_counts = lru_cache(maxsize=4096)(Counts)


class PaperLine(NamedTuple):
    """A paper in the list of papers, unchecked, so that thousands are read at once."""

    id: int
    key: str
    data: StockData
    counts: Counts

    @property
    def paper(self) -> StockPaper:
        """The paper, with the sheets that are free. Raises CraftError when it is damaged."""
        return stock_paper(self.data, self.counts.on_hand)

    @property
    def taken(self) -> Paper:
        """The paper as a project takes it. Raises CraftError when it is damaged."""
        return replace(self.paper.paper, stock=self.key)


class OffcutLine(NamedTuple):
    """The offcuts of one paper and size. `since` is when one came in last, UTC."""

    id: int
    paper: int
    name: str
    size: str
    counts: Counts
    since: str

    @property
    def measures(self) -> Size:
        """How large each is, its print upright."""
        size = size_kept(self.size)
        assert size
        return size


class Listing(NamedTuple):
    """All that lies in the drawer: papers by name, offcuts by the name of theirs."""

    papers: tuple[PaperLine, ...]
    offcuts: tuple[OffcutLine, ...]


class Origin(NamedTuple):
    """How many offcuts a batch gave into a lot, and when; no batch where it was by hand."""

    batch: int | None
    title: str
    offcuts: int
    at: datetime


def all_papers(
    connection: sqlite3.Connection, where: str = "1", *values: object
) -> tuple[PaperLine, ...]:
    """Every paper that `where` holds of, by name; merged and removed ones are no papers."""
    rows = connection.execute(
        "SELECT papers.id, key, data, bought, on_hand, reserved, used, thrown FROM papers "
        "JOIN lots ON lots.paper = papers.id AND size = '' "
        f"WHERE NOT removed AND merged IS NULL AND {where} ORDER BY name, papers.id",
        values,
    )
    return tuple(
        PaperLine(paper_id, key, stock_data(data), _counts(*counts))
        for paper_id, key, data, *counts in rows
    )


def one_paper(connection: sqlite3.Connection, paper_id: int) -> PaperLine:
    """The paper with that id. Raises WorkshopError where there is none."""
    found = all_papers(connection, "papers.id = ?", paper_id)
    if not found:
        raise no_paper(str(paper_id))
    return found[0]


def all_offcuts(connection: sqlite3.Connection) -> tuple[OffcutLine, ...]:
    """All offcuts on hand or reserved, by the name of their paper."""
    rows = connection.execute(
        "SELECT lots.id, paper, name, size, since, bought, on_hand, reserved, used, thrown "
        "FROM lots JOIN papers ON papers.id = paper "
        "WHERE size != '' AND on_hand + reserved > 0 AND NOT removed AND merged IS NULL "
        "ORDER BY name, paper, lots.id"
    )
    return tuple(
        OffcutLine(lot_id, paper, name, size, _counts(*counts), since)
        for lot_id, paper, name, size, since, *counts in rows
    )


def lots_of(connection: sqlite3.Connection, paper_id: int) -> list[Lot]:
    """The sheets of a paper, and its offcuts of every size."""
    rows = connection.execute("SELECT id FROM lots WHERE paper = ?", (paper_id,)).fetchall()
    return [lot(connection, lot_id) for (lot_id,) in rows]


def one_lot(connection: sqlite3.Connection, lot_id: int) -> Lot:
    """The lot with that id. Raises WorkshopError where there is none."""
    if not connection.execute("SELECT 1 FROM lots WHERE id = ?", (lot_id,)).fetchone():
        raise WorkshopError("the drawer", f"it has no lot {lot_id}", "choose one from its list")
    return lot(connection, lot_id)


def no_paper(which: str, names: Sequence[str] = ()) -> WorkshopError:
    """What to say where there is no such paper, among those that are called so."""
    from difflib import get_close_matches

    near = get_close_matches(which, names, n=1, cutoff=0.4)
    mend = f"did you mean {shown(near[0])}?" if near else "choose one from its list"
    return WorkshopError("the drawer", f"it has no paper {shown(which)}", mend)
