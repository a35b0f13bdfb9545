"""The maker's own pace, out of the batches that the workshop keeps."""

import json
import sqlite3
from collections.abc import Iterator

from workbench.craft.pace import ESTIMATED, Pace
from workbench.making.timing import MOST, TimedStroke, measured, timed_strokes
from workbench.store.batch_rows import read_events
from workbench.store.database import Workshop
from workbench.store.errors import StoreError
from workbench.store.preferences import Preferences

_BATCHES = 40  # of the last ones, so that many years of tiny batches are read as fast


def pace_of(workshop: Workshop, preferences: Preferences) -> Pace:
    """The pace that plans are made for: the maker's own as far as it is measured, if wanted.

    Raises:
        WorkshopError: when the workshop's file cannot be used.
    """
    return measured_pace(workshop) if preferences.own_pace else ESTIMATED


def measured_pace(workshop: Workshop) -> Pace:
    """The pace that the batches worked on last show. Raises WorkshopError."""
    if not workshop.exists:
        return ESTIMATED
    with workshop.reading() as connection:
        return measured(_last_strokes(connection))


def _last_strokes(connection: sqlite3.Connection) -> list[TimedStroke]:
    rows = connection.execute(
        "SELECT batch FROM events WHERE what = 'ticked' GROUP BY batch "
        "ORDER BY max(at) DESC, batch DESC LIMIT ?",
        (_BATCHES,),
    ).fetchall()
    strokes: list[TimedStroke] = []
    for (batch_id,) in rows:
        if len(strokes) >= MOST:
            break
        strokes[:0] = _strokes_of(connection, batch_id)
    return strokes


def _strokes_of(connection: sqlite3.Connection, batch_id: int) -> Iterator[TimedStroke]:
    """Those of one batch; none of one that is damaged, which is told where it is opened."""
    from workbench.store.plan_data import plan_from_data

    row = connection.execute(
        "SELECT plan, makeable FROM batches WHERE id = ?", (batch_id,)
    ).fetchone()
    try:
        plan, events = plan_from_data(json.loads(row[0]), row[1]), read_events(connection, batch_id)
    except (StoreError, ValueError):
        return
    yield from timed_strokes(plan, events)
