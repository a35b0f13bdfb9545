"""Counts in the workshop's tables: every one changes by a movement, which is kept for good."""

import sqlite3
from datetime import UTC, datetime
from typing import NamedTuple

from workbench.craft.paper import MOST_SHEETS, Size
from workbench.craft.stock import Counts, Move
from workbench.store.errors import WorkshopError
from workbench.store.stock_data import size_text


class StockShortError(WorkshopError):
    """Raised when the drawer has too few for what is asked; nothing was written."""


class Lot(NamedTuple):
    """The sheets of a paper, or its offcuts of one size, and what became of them."""

    id: int
    paper: int
    size: str
    counts: Counts


def lot_of(connection: sqlite3.Connection, paper: int, size: Size | None) -> Lot:
    """The lot of a paper's sheets, or of its offcuts of `size`; an empty one where it is new."""
    return _lot_at(connection, paper, size_text(size))


def lot(connection: sqlite3.Connection, lot_id: int) -> Lot:
    """The lot with that id, which must be there."""
    found = _lot(connection, "id = ?", lot_id)
    assert found
    return found


def move(
    connection: sqlite3.Connection,
    lot_id: int,
    by: Move,
    *,
    batch: int | None = None,
    change: int | None = None,
) -> None:
    """Change a lot's counts and write down that it was done.

    A paper that was merged into another keeps none on hand: what comes back goes to that one, and
    what is taken comes from it. Raises StockShortError.
    """
    if not by:
        return
    there = lot(connection, lot_id)
    heir = _heir(connection, there) if by.on_hand else None
    if heir is not None and by.on_hand < 0:
        _apply(connection, heir, Move(bought=by.on_hand, on_hand=by.on_hand))
        _apply(connection, there, Move(bought=-by.on_hand, on_hand=-by.on_hand))
        there = lot(connection, lot_id)
    _apply(connection, there, by, batch, change)
    if heir is not None and by.on_hand > 0:
        _apply(connection, lot(connection, lot_id), Move(bought=-by.on_hand, on_hand=-by.on_hand))
        _apply(connection, heir, Move(bought=by.on_hand, on_hand=by.on_hand))


def now() -> str:
    """The time as the tables hold it, UTC."""
    return datetime.now(UTC).isoformat()


def _apply(
    connection: sqlite3.Connection,
    there: Lot,
    by: Move,
    batch: int | None = None,
    change: int | None = None,
) -> None:
    after = [one + more for one, more in zip(there.counts.as_tuple, by.as_tuple, strict=True)]
    if min(after) < 0:
        raise _too_few(connection, there, by)
    if change is not None and by.on_hand > 0 and after[1] > MOST_SHEETS:
        raise WorkshopError(
            "the drawer", f"{after[1]} of one cannot lie there", f"{MOST_SHEETS} at most"
        )
    at = now()
    connection.execute(
        "UPDATE lots SET bought = ?, on_hand = ?, reserved = ?, used = ?, thrown = ? WHERE id = ?",
        (*after, there.id),
    )
    if by.on_hand > 0:
        connection.execute("UPDATE lots SET since = ? WHERE id = ?", (at, there.id))
    connection.execute(
        "INSERT INTO movements (at, lot, batch, change, bought, on_hand, reserved, used, thrown) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (at, there.id, batch, change, *by.as_tuple),
    )


def _lot(connection: sqlite3.Connection, where: str, *values: object) -> Lot | None:
    row = connection.execute(
        f"SELECT id, paper, size, bought, on_hand, reserved, used, thrown FROM lots WHERE {where}",
        values,
    ).fetchone()
    if row is None:
        return None
    lot_id, paper, size, *counts = row
    return Lot(lot_id, paper, size, Counts(*counts))


def _lot_at(connection: sqlite3.Connection, paper: int, at: str) -> Lot:
    found = _lot(connection, "paper = ? AND size = ?", paper, at)
    if found:
        return found
    connection.execute("INSERT INTO lots (paper, size, since) VALUES (?, ?, ?)", (paper, at, now()))
    return _lot_at(connection, paper, at)


def _heir(connection: sqlite3.Connection, there: Lot) -> Lot | None:
    """The same lot of the paper that the lot's paper was merged into."""
    paper = final_paper(connection, there.paper)
    return None if paper == there.paper else _lot_at(connection, paper, there.size)


def paper_with(connection: sqlite3.Connection, key: str) -> int | None:
    """The paper of that key, or the one it was merged into; None where there is none."""
    row = connection.execute("SELECT id FROM papers WHERE key = ?", (key,)).fetchone()
    return final_paper(connection, row[0]) if row else None


def final_paper(connection: sqlite3.Connection, paper: int) -> int:
    """The paper itself, or the one it was merged into in the end."""
    while True:
        row = connection.execute("SELECT merged FROM papers WHERE id = ?", (paper,)).fetchone()
        if row is None or row[0] is None:
            return paper
        paper = row[0]


def _too_few(connection: sqlite3.Connection, there: Lot, by: Move) -> StockShortError:
    (name,) = connection.execute("SELECT name FROM papers WHERE id = ?", (there.paper,)).fetchone()
    thing = "offcuts of that size" if there.size else "sheets"
    return StockShortError(
        f"the drawer, “{name}”",
        f"it has {there.counts.on_hand} free {thing}, and {-by.on_hand} are asked for"
        if by.on_hand < 0
        else f"what is taken back is not there any more ({there.counts})",
        "plan the batch again, or count the paper again",
    )
