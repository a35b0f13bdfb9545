"""Batches as the workshop's tables hold them.

What reads and writes projects, plans and events is imported where it is needed, as the start page
of a workshop without batches needs none of it.
"""

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.making.events import Event
    from workbench.planning import Plan


class Batch(NamedTuple):
    """A batch as it was begun, and all that has happened to it.

    Attributes:
        project: a copy of the project as it was then.
        plan: a copy of its plan.
        events: what has happened, in order; the first has sequence number 1.
        path: the project's file, None where it had none.
        started: when it was begun, UTC.
    """

    project: "Project"
    plan: "Plan"
    events: "tuple[Event, ...]"
    path: Path | None
    started: datetime


@dataclass(frozen=True, slots=True)
class BatchLine:
    """A batch in the list of batches.

    Attributes:
        id: its number in the database.
        title: of its project.
        path: the project's file, None where it had none.
        done: how many steps are done.
        steps: how many there are.
        worked: when the last event happened, or else when it was begun, UTC.
        away: whether it was put away: kept, but not offered to go on with.
        abandoned: whether it was given up before its end.
    """

    id: int
    title: str
    path: Path | None
    done: int
    steps: int
    worked: datetime
    away: bool
    abandoned: bool = False

    @property
    def finished(self) -> bool:
        """Whether every step is done."""
        return self.done == self.steps

    @property
    def over(self) -> bool:
        """Whether nothing is left to do."""
        return self.finished or self.abandoned


def insert_batch(
    connection: sqlite3.Connection, project: "Project", path: str | None, plan: "Plan", at: datetime
) -> int:
    """Keep copies of a project and its plan; returns the batch's id."""
    from workbench.store.dump import project_text
    from workbench.store.plan_data import plan_to_data

    written = connection.execute(
        "INSERT INTO batches (path, title, project, plan, makeable, created) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        (
            path,
            project.title,
            project_text(project),
            json.dumps(plan_to_data(plan, project.units)),
            plan.makeable,
            at.isoformat(),
        ),
    )
    # sqlite3 knows the id of every row that it has inserted.
    assert written.lastrowid is not None
    return written.lastrowid


def read_batch(connection: sqlite3.Connection, batch_id: int) -> Batch | None:
    """The batch; None where there is none. Raises StoreError when it is damaged."""
    from workbench.store.load import project_from_text
    from workbench.store.plan_data import plan_from_data

    row = connection.execute(
        "SELECT project, plan, makeable, path, created FROM batches WHERE id = ?", (batch_id,)
    ).fetchone()
    if row is None:
        return None
    text, plan, makeable, path, created = row
    return Batch(
        project_from_text(text, f"batch {batch_id}"),
        plan_from_data(json.loads(plan), makeable),
        read_events(connection, batch_id),
        Path(path) if path else None,
        datetime.fromisoformat(created),
    )


def read_lines(connection: sqlite3.Connection) -> tuple[BatchLine, ...]:
    """Every batch, those that are not over first, and of those the one worked on last."""
    happened = _happened_by_batch(connection)
    rows = connection.execute(
        "SELECT id, title, path, json_array_length(plan, '$.steps'), created, away FROM batches"
    )
    lines = [_line(row, happened.get(row[0], ())) for row in rows]
    lines.sort(key=lambda line: (line.worked, line.id), reverse=True)
    return tuple(sorted(lines, key=lambda line: line.over))


def insert_event(connection: sqlite3.Connection, batch_id: int, seq: int, event: "Event") -> None:
    """Keep `event` as number `seq` of its batch, in the caller's transaction."""
    from workbench.store.event_data import carried

    at = event.at.astimezone(UTC).isoformat()
    connection.execute(
        "INSERT INTO events VALUES (?, ?, ?, ?, ?, ?)",
        (batch_id, seq, event.what, event.step, at, carried(event)),
    )


def read_events(
    connection: sqlite3.Connection, batch_id: int, after: int = 0
) -> "tuple[Event, ...]":
    """What has happened to a batch since its event number `after`."""
    rows = connection.execute(
        "SELECT what, step, at, carries FROM events WHERE batch = ? AND seq > ? ORDER BY seq",
        (batch_id, after),
    )
    return _kept(rows)


# An event without what it carries, and of a way on, which carries a whole plan, its numbers of
# steps in all and done.
_Happened = tuple[str, int, str, int | None, int | None]


def _happened_by_batch(connection: sqlite3.Connection) -> dict[int, list[_Happened]]:
    rows = connection.execute(
        "SELECT batch, what, step, at, "
        "CASE what WHEN 'mended' THEN json_array_length(carries, '$.plan.steps') END, "
        "CASE what WHEN 'mended' THEN json_extract(carries, '$.done') END "
        "FROM events ORDER BY batch, seq"
    )
    return {
        batch_id: [row[1:] for row in group] for batch_id, group in groupby(rows, itemgetter(0))
    }


def _kept(rows: "Iterable[tuple[Any, ...]]") -> "tuple[Event, ...]":
    from workbench.store.event_data import event_kept

    return tuple(event_kept(*row) for row in rows)


def _line(
    row: tuple[int, str, str | None, int, str, int], happened: Iterable[_Happened]
) -> BatchLine:
    from workbench.making.batch import BatchState, applied, recovered
    from workbench.store.event_data import event_kept

    batch_id, title, path, steps, created, away = row
    state, worked = BatchState(steps), datetime.fromisoformat(created)
    for what, step, at, mended_steps, mended_done in happened:
        worked = datetime.fromisoformat(at)
        if mended_steps is not None and mended_done is not None:
            state = recovered(state, mended_steps, mended_done)
        else:
            state = applied(state, event_kept(what, step, at, None))
    there = Path(path) if path else None
    return BatchLine(
        batch_id, title, there, state.done, state.steps, worked, bool(away), state.abandoned
    )
