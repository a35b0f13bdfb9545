"""A workshop that is held open keeps as safely, and does not tidy up after each thing kept."""

from datetime import UTC, datetime
from pathlib import Path

from tests.making.plans import HARBOUR, PLAN
from workbench.making.events import Event
from workbench.store.database import FILE, Workshop

NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)


def test_what_is_kept_while_held_is_in_the_log_and_there_for_others(tmp_path: Path) -> None:
    workshop = Workshop.open(tmp_path)
    batch = workshop.create_batch(HARBOUR, None, PLAN)
    # SQLite's write-ahead log goes when the last one closes the file (sqlite.org/wal.html).
    log = workshop.file.with_name(f"{FILE}-wal")
    assert not log.exists()
    with workshop.held():
        stamp = workshop.stamp
        workshop.append(batch, Event("ticked", 1, NOON), 1)
        assert log.exists()
        assert workshop.stamp != stamp
        assert len(Workshop.open(tmp_path).batch(batch).events) == 1
    assert not log.exists()
    assert len(workshop.batch(batch).events) == 1
