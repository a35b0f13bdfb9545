"""Batches that draw on the drawer: each of their events moves its counts, in one transaction.

A tick looks at two small tables alone, so that it stays as quick as one that moves nothing.
"""

import sqlite3
from collections import Counter
from collections.abc import Mapping
from datetime import UTC, datetime

from workbench.craft.project import Project
from workbench.craft.stock import Move, Source
from workbench.making.batch import BatchState, applied, replay
from workbench.making.events import Event
from workbench.making.plan_index import PlanIndex
from workbench.making.stock_draws import Drawn, lacking
from workbench.store.batch_rows import Batch, read_batch
from workbench.store.least_useful import LEAST_KEY, least_useful
from workbench.store.lots import final_paper, lot, lot_of, move, paper_with

_TICKS = ("ticked", "ticked through")
_SHIFTS = ("mended", "stocked", "abandoned")
_OVER = -1
_ANY_TIME = datetime(1970, 1, 1, tzinfo=UTC)
_MOVES = "bought, on_hand, reserved, used, thrown"


def begin(connection: sqlite3.Connection, batch_id: int, batch: Batch) -> None:
    """Link a new batch's papers with the drawer's that they were taken from, and reserve.

    What the plan counts as bought comes in. Raises StockShortError.
    """
    link(connection, batch_id, batch, links_of(connection, batch.project))


def links_of(connection: sqlite3.Connection, project: Project) -> dict[str, int]:
    """The drawer's papers that those of the project were taken from, by their names in it."""
    return {
        paper.name: found
        for paper in project.papers
        if paper.stock and (found := paper_with(connection, paper.stock)) is not None
    }


def link(
    connection: sqlite3.Connection,
    batch_id: int,
    batch: Batch,
    links: Mapping[str, int],
    *,
    buying: bool = False,
) -> None:
    """Let a batch draw on the drawer's papers `links`, by its own names for them.

    With `buying` all that lacks comes in, as for a batch that is well under way. Raises
    StockShortError.
    """
    if not links:
        return
    connection.executemany(
        "INSERT OR REPLACE INTO links VALUES (?, ?, ?)",
        [(batch_id, name, paper) for name, paper in links.items()],
    )
    # What is given back goes by what held when the batch came to the drawer.
    connection.execute(
        "UPDATE batches SET least = (SELECT value FROM settings WHERE key = ?) WHERE id = ?",
        (LEAST_KEY, batch_id),
    )
    _settle(connection, batch_id, batch, buying=buying)


def happened(connection: sqlite3.Connection, batch_id: int, event: Event) -> None:
    """Move what `event`, the last of the batch, moves. Raises StockShortError."""
    done, steps = connection.execute(
        "SELECT done, steps FROM batches WHERE id = ?", (batch_id,)
    ).fetchone()
    if done is None:
        return
    if event.what in _TICKS:
        in_turn = event.step == done + 1 or (event.what == "ticked through" and event.step > done)
        if done == _OVER or not in_turn or event.step > steps:
            return
        if event.step < steps:
            _open(connection, batch_id, event.step)
            return
    elif event.what == "taken back":
        back = _taken_back(connection, batch_id, done, steps)
        if back is not None:
            _open(connection, batch_id, back)
            return
    elif event.what not in _SHIFTS:
        return
    batch = read_batch(connection, batch_id)
    assert batch
    _settle(connection, batch_id, batch)


def release(connection: sqlite3.Connection, batch_id: int) -> None:
    """Put back what a batch still reserves, before it is forgotten."""
    for lot_id, moved in _moved(connection, batch_id).items():
        if moved.reserved:
            back = Move(on_hand=moved.reserved, reserved=-moved.reserved)
            move(connection, lot_id, back, batch=batch_id)
    for table in ("openings", "links", "recipients"):
        connection.execute(f"DELETE FROM {table} WHERE batch = ?", (batch_id,))


def disagreement(connection: sqlite3.Connection, batch_id: int) -> str | None:
    """How what a batch has moved differs from where it stands, in words; None where it does not."""
    batch = read_batch(connection, batch_id)
    assert batch
    state = replay(batch.plan, batch.events)
    wanted = _wanted(connection, batch_id, batch, state)
    moved = _moved(connection, batch_id)
    for lot_id in sorted({*wanted, *moved}):
        should, does = wanted.get(lot_id, Move()), moved.get(lot_id, Move())
        if should != does:
            return f"lot {lot_id} should be changed by {should.as_tuple}, not {does.as_tuple}"
    (done,) = connection.execute("SELECT done FROM batches WHERE id = ?", (batch_id,)).fetchone()
    stands = _standing(state)
    return None if done == stands else f"{stands} steps are done, not {done}"


def _settle(
    connection: sqlite3.Connection, batch_id: int, batch: Batch, *, buying: bool = False
) -> None:
    """Make what the batch has moved what it should have, by where it stands."""
    state = replay(batch.plan, batch.events)
    wanted = _wanted(connection, batch_id, batch, state)
    moved = _moved(connection, batch_id)
    to_buy = _to_buy(connection, batch_id, batch, state)
    for lot_id in sorted({*wanted, *moved}):
        by = wanted.get(lot_id, Move()) - moved.get(lot_id, Move())
        short = -by.on_hand - _free(connection, lot_id)
        if short > 0 and (buying or short <= to_buy[lot_id]):
            move(connection, lot_id, Move(bought=short, on_hand=short))
        move(connection, lot_id, by, batch=batch_id)
    _write_openings(connection, batch_id, batch, state)


def _free(connection: sqlite3.Connection, lot_id: int) -> int:
    there = lot(connection, lot_id)
    heir = final_paper(connection, there.paper)
    if heir == there.paper:
        return there.counts.on_hand
    row = connection.execute(
        "SELECT on_hand FROM lots WHERE paper = ? AND size = ?", (heir, there.size)
    ).fetchone()
    return row[0] if row else 0


def _wanted(
    connection: sqlite3.Connection, batch_id: int, batch: Batch, state: BatchState
) -> dict[int, Move]:
    papers = _linked(connection, batch_id)
    effects = _drawn(connection, batch_id, batch).effects(state, batch.events)
    return {
        lot_of(connection, papers[source.stock], source.offcut).id: effect
        for source, effect in effects.items()
    }


def _to_buy(
    connection: sqlite3.Connection, batch_id: int, batch: Batch, state: BatchState
) -> Counter[int]:
    plan = PlanIndex(batch.project, batch.plan).after(state).plan
    papers, stock = _linked(connection, batch_id), _keys(connection, batch_id)
    return Counter(
        {
            lot_of(connection, papers[source.stock], None).id: count
            for source, count in lacking(plan, stock).items()
        }
    )


def _write_openings(
    connection: sqlite3.Connection, batch_id: int, batch: Batch, state: BatchState
) -> None:
    papers = _linked(connection, batch_id)

    def lot_id(source: Source) -> int:
        return lot_of(connection, papers[source.stock], source.offcut).id

    connection.execute("DELETE FROM openings WHERE batch = ?", (batch_id,))
    openings = () if state.abandoned else _drawn(connection, batch_id, batch).openings(state)
    connection.executemany(
        "INSERT INTO openings VALUES (?, ?, ?, ?, ?)",
        [
            (batch_id, each.step, lot_id(each.source), each.count, each.step <= state.done)
            for each in openings
        ],
    )
    connection.execute(
        "UPDATE batches SET done = ?, steps = ? WHERE id = ?",
        (_standing(state), state.steps, batch_id),
    )


def _standing(state: BatchState) -> int:
    return _OVER if state.abandoned else state.done


def _open(connection: sqlite3.Connection, batch_id: int, done: int) -> None:
    """Open what the first `done` steps open and nothing else; they are done now."""
    rows = connection.execute(
        "SELECT step, lot, count FROM openings WHERE batch = ? AND opened != (step <= ?)",
        (batch_id, done),
    ).fetchall()
    for step, lot_id, count in rows:
        by = Move(reserved=-count, used=count)
        move(connection, lot_id, by if step <= done else -by, batch=batch_id)
        connection.execute(
            "UPDATE openings SET opened = ? WHERE batch = ? AND step = ? AND lot = ?",
            (step <= done, batch_id, step, lot_id),
        )
    connection.execute("UPDATE batches SET done = ? WHERE id = ?", (done, batch_id))


def _taken_back(connection: sqlite3.Connection, batch_id: int, done: int, steps: int) -> int | None:
    """How many steps are done now; None where more than ticks is taken back."""
    if done in (_OVER, steps):
        return None
    state = BatchState(steps)
    rows = connection.execute(
        "SELECT what, step FROM events WHERE batch = ? ORDER BY seq", (batch_id,)
    )
    for what, step in rows:
        if what in _SHIFTS:
            return None
        state = applied(state, Event(what, step, _ANY_TIME))
    return state.done


def _drawn(connection: sqlite3.Connection, batch_id: int, batch: Batch) -> Drawn:
    stock = _keys(connection, batch_id)
    (least,) = connection.execute("SELECT least FROM batches WHERE id = ?", (batch_id,)).fetchone()
    return Drawn(PlanIndex(batch.project, batch.plan), stock, least_useful(least))


def _keys(connection: sqlite3.Connection, batch_id: int) -> dict[str, str]:
    """The key in the drawer of each paper of the batch that is linked, by its name there."""
    rows = connection.execute(
        "SELECT links.name, papers.key FROM links JOIN papers ON papers.id = links.paper "
        "WHERE batch = ?",
        (batch_id,),
    )
    return dict(rows.fetchall())


def _linked(connection: sqlite3.Connection, batch_id: int) -> dict[str, int]:
    """The papers that the batch is linked with, by their keys."""
    rows = connection.execute(
        "SELECT papers.key, papers.id FROM links JOIN papers ON papers.id = links.paper "
        "WHERE batch = ?",
        (batch_id,),
    )
    return dict(rows.fetchall())


def _moved(connection: sqlite3.Connection, batch_id: int) -> dict[int, Move]:
    """What the batch has moved in all, by lot."""
    sums = ", ".join(f"sum({column})" for column in _MOVES.split(", "))
    rows = connection.execute(
        f"SELECT lot, {sums} FROM movements WHERE batch = ? GROUP BY lot", (batch_id,)
    )
    return {lot_id: Move(*counts) for lot_id, *counts in rows}
