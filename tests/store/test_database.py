"""The workshop keeps what it was given: across windows, threads, crashes and bad disks."""

import os
import random
import resource
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given, settings

from tests.effort import examples
from tests.making.plans import HARBOUR, PLAN
from tests.store.strategies import projects
from workbench.craft.project import Project
from workbench.making.events import Event, Recovery
from workbench.store import database as workshop_module
from workbench.store.backup import back_up, restore, trouble
from workbench.store.database import MOST_RECENT, ConflictError, Workshop
from workbench.store.errors import StoreError, WorkshopError

NOON = datetime(2024, 5, 4, 12, tzinfo=UTC)
REPOSITORY = Path(__file__).parents[2]


def ticked(step: int) -> Event:
    return Event("ticked", step, NOON + timedelta(minutes=step))


@pytest.fixture
def workshop(workshop_folder: Path) -> Workshop:
    return Workshop.open()


@pytest.fixture
def batch_id(workshop: Workshop) -> int:
    return workshop.create_batch(HARBOUR, Path("harbour.toml"), PLAN)


@contextmanager
def direct(workshop: Workshop) -> Iterator[sqlite3.Connection]:
    """Reach into the file, as a disk or another program might."""
    with closing(sqlite3.connect(workshop.file, isolation_level=None)) as connection:
        yield connection


def integrity(workshop: Workshop) -> str:
    with direct(workshop) as connection:
        return str(connection.execute("PRAGMA integrity_check").fetchone()[0])


# What is kept


def test_the_list_of_batches_reads_no_plan_of_a_way_on(
    workshop: Workshop, batch_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    longer = replace(PLAN, steps=(*PLAN.steps, replace(PLAN.steps[-1], n=len(PLAN.steps) + 1)))
    way = Recovery("lost", "cut another", HARBOUR, longer, 5)
    happened = [*map(ticked, range(1, 4)), Event("mended", 5, NOON, way), ticked(6)]
    for seq, event in enumerate(happened, 1):
        workshop.append(batch_id, event, seq)
    monkeypatch.setattr("workbench.store.event_data.plan_from_data", None)  # whoever reads fails
    (line,) = workshop.batches()
    assert (line.done, line.steps) == (6, len(longer.steps))
    for seq in (6, 7):
        workshop.append(batch_id, Event("taken back", 12 - seq, NOON), seq)
    (line,) = workshop.batches()
    assert (line.done, line.steps) == (3, len(PLAN.steps))


def test_it_is_made_only_when_first_needed(workshop: Workshop, workshop_folder: Path) -> None:
    assert not workshop.exists
    assert not workshop_folder.exists()
    assert workshop.recent() == ()
    assert workshop.exists


def test_it_lies_in_the_folder_asked_for_or_with_the_users_data(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert Workshop.open(tmp_path).folder == tmp_path
    monkeypatch.delenv("TRIMTALLY_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert Workshop.open().folder.name == "trimtally"


def test_writes_are_on_disk_before_they_are_acknowledged(workshop: Workshop) -> None:
    # SQLite's own documentation: synchronous 2 is FULL; in WAL mode a commit then waits for fsync.
    with workshop.reading() as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.execute("PRAGMA synchronous").fetchone() == (2,)
        assert connection.execute("PRAGMA foreign_keys").fetchone() == (1,)


def test_a_batch_keeps_copies_of_its_project_and_plan(workshop: Workshop, batch_id: int) -> None:
    batch = workshop.batch(batch_id)
    assert batch[:3] == (HARBOUR, PLAN, ())


@given(project=projects())
@settings(max_examples=examples(6))
def test_any_project_can_be_made_a_batch(
    project: Project, tmp_path_factory: pytest.TempPathFactory
) -> None:
    workshop = Workshop.open(tmp_path_factory.mktemp("workshop"))
    assert workshop.batch(workshop.create_batch(project, None, PLAN)).project == project


def test_events_come_back_in_order(workshop: Workshop, batch_id: int) -> None:
    events = (ticked(1), ticked(2), Event("taken back", 2, NOON), ticked(2))
    assert [workshop.append(batch_id, event, n) for n, event in enumerate(events, 1)] == [
        1,
        2,
        3,
        4,
    ]
    assert workshop.batch(batch_id).events == events
    assert workshop.events(batch_id) == events
    assert workshop.events(batch_id, after_seq=2) == events[2:]


def test_times_are_kept_as_the_same_moment_in_utc(workshop: Workshop, batch_id: int) -> None:
    from datetime import timezone

    abroad = NOON.astimezone(timezone(timedelta(hours=9, minutes=30)))
    workshop.append(batch_id, Event("ticked", 1, abroad), 1)
    (event,) = workshop.events(batch_id)
    assert event.at == NOON
    assert event.at.utcoffset() == timedelta(0)


def test_the_unfinished_batches_come_first_then_the_latest_worked_on(workshop: Workshop) -> None:
    finished, old, new = (workshop.create_batch(HARBOUR, None, PLAN) for _ in range(3))
    for step in range(1, len(PLAN.steps) + 1):
        workshop.append(finished, Event("ticked", step, NOON + timedelta(days=40_000)), step)
    workshop.append(new, Event("ticked", 1, NOON + timedelta(days=30_000)), 1)
    lines = workshop.batches()
    assert [line.id for line in lines] == [new, old, finished]
    assert [line.done for line in lines] == [1, 0, len(PLAN.steps)]
    assert [line.finished for line in lines] == [False, False, True]
    assert {(line.title, line.steps) for line in lines} == {(HARBOUR.title, len(PLAN.steps))}


def test_recent_projects_are_listed_once_the_latest_first(
    workshop: Workshop, tmp_path: Path
) -> None:
    for name in ("a", "b", "a"):
        workshop.remember(tmp_path / f"{name}.toml", name.upper())
    assert [recent.title for recent in workshop.recent()] == ["A", "B"]
    assert workshop.recent()[0].path == (tmp_path / "a.toml").resolve()


def test_only_so_many_recent_projects_are_kept(workshop: Workshop) -> None:
    for number in range(MOST_RECENT + 3):
        workshop.remember(Path(f"{number}.toml"), str(number))
    titles = [recent.title for recent in workshop.recent()]
    assert len(titles) == MOST_RECENT
    assert titles[0] == str(MOST_RECENT + 2)


def test_settings_are_kept(workshop: Workshop) -> None:
    assert workshop.preference("keys") is None
    workshop.set_preference("keys", {"tick": ["space", "enter"]})
    workshop.set_preference("keys", {"tick": ["space"]})
    assert workshop.preference("keys") == {"tick": ["space"]}


# Several windows


def test_a_window_that_was_overtaken_writes_nothing(workshop: Workshop, batch_id: int) -> None:
    other = Workshop.open(workshop.folder)
    other.append(batch_id, ticked(1), 1)
    with pytest.raises(ConflictError):
        workshop.append(batch_id, Event("taken back", 1, NOON), 1)
    assert workshop.events(batch_id) == (ticked(1),)
    assert workshop.append(batch_id, ticked(2), 2) == 2


def test_no_number_is_left_out(workshop: Workshop, batch_id: int) -> None:
    with pytest.raises(ConflictError):
        workshop.append(batch_id, ticked(1), 2)
    assert workshop.events(batch_id) == ()


def test_of_many_threads_one_wins_each_number(workshop: Workshop, batch_id: int) -> None:
    start = threading.Barrier(4)

    def race(_: int) -> int:
        won = 0
        start.wait()
        while (seq := len(workshop.events(batch_id)) + 1) <= 20:
            try:
                workshop.append(batch_id, ticked(seq), seq)
            except ConflictError:
                continue
            won += 1
        return won

    with ThreadPoolExecutor(4) as pool:
        assert sum(pool.map(race, range(4))) == 20
    assert workshop.events(batch_id) == tuple(ticked(step) for step in range(1, 21))


def test_many_threads_may_open_a_new_workshop_at_once(tmp_path: Path) -> None:
    start = threading.Barrier(6)

    def first_use(workshop: Workshop, number: int) -> None:
        start.wait()
        workshop.set_preference(str(number), number)

    # Often, since in a single opening they seldom meet at the very same moment.
    with ThreadPoolExecutor(6) as pool:
        for time in range(50):
            workshop = Workshop(tmp_path / str(time))
            list(pool.map(partial(first_use, workshop), range(6)))
            assert [workshop.preference(str(number)) for number in range(6)] == list(range(6))


# Crashes


def test_nothing_acknowledged_is_lost_when_killed_at_any_moment(
    workshop: Workshop, batch_id: int
) -> None:
    moment = random.Random(20240504)
    for _ in range(5):
        already = len(workshop.events(batch_id))
        acknowledged = _ticked_until_killed(workshop, batch_id, moment.randint(1, 25))
        assert acknowledged == list(range(already + 1, already + len(acknowledged) + 1))
        with direct(workshop) as connection:
            rows = connection.execute("SELECT seq, step FROM events ORDER BY seq").fetchall()
        # One more may have been kept and never acknowledged.
        assert len(rows) - (already + len(acknowledged)) in (0, 1)
        assert rows == [(seq, seq) for seq in range(1, len(rows) + 1)]
        assert integrity(workshop) == "ok"


def _ticked_until_killed(workshop: Workshop, batch_id: int, after: int) -> list[int]:
    """Let another process tick; kill it somewhere past `after` acknowledgements."""
    command = [sys.executable, "-m", "tests.store.ticking", str(workshop.folder), str(batch_id)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=REPOSITORY) as ticking:
        assert ticking.stdout
        heard = [int(ticking.stdout.readline()) for _ in range(after)]
        ticking.send_signal(signal.SIGKILL)
        # What was said before the kill still stands in the pipe; the last line may be cut off.
        heard += [int(line) for line in ticking.stdout.read().split("\n")[:-1]]
    return heard


# Trouble


def test_a_batch_that_is_not_there(workshop: Workshop) -> None:
    with pytest.raises(WorkshopError, match="no batch 7"):
        workshop.batch(7)
    with pytest.raises(WorkshopError, match="no batch 7"):
        workshop.append(7, ticked(1), 1)


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("not a folder", encoding="utf-8")
    with pytest.raises(WorkshopError, match=r"cannot be used.*move it away"):
        Workshop.open(tmp_path / "home").recent()


@pytest.mark.parametrize("make", [Path.mkdir, os.mkfifo], ids=["folder", "pipe"])
def test_what_is_no_file_in_place_of_the_file(
    workshop: Workshop, tmp_path: Path, make: Callable[[Path], None]
) -> None:
    kept = Workshop.open(tmp_path / "kept")
    kept.set_preference("units", "mm")
    back_up(kept.file, tmp_path / "backup.sqlite")
    workshop.folder.mkdir()
    make(workshop.file)
    with pytest.raises(WorkshopError, match="it is no file; move it away"):
        workshop.recent()
    # Of a pipe SQLite would wait for bytes without end.
    assert trouble(workshop.file) is None
    with pytest.raises(WorkshopError, match="no workshop"):
        back_up(workshop.file, tmp_path / "no.sqlite")
    aside = restore(workshop.file, tmp_path / "backup.sqlite")
    assert aside
    assert [path.name for path in aside.iterdir()] == [workshop.file.name]
    assert workshop.preference("units") == "mm"


def test_a_file_that_is_no_database(workshop: Workshop) -> None:
    workshop.folder.mkdir()
    workshop.file.write_bytes(b"nine cards" * 1000)
    with pytest.raises(WorkshopError, match="move it away"):
        workshop.recent()
    assert workshop.file.read_bytes() == b"nine cards" * 1000


def test_a_damaged_database(workshop: Workshop, batch_id: int) -> None:
    content = bytearray(workshop.file.read_bytes())
    content[4096:] = b"\xff" * (len(content) - 4096)
    workshop.file.write_bytes(content)
    with pytest.raises(WorkshopError):
        workshop.batch(batch_id)


@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE batches SET project = 'title = 1'",
        "UPDATE batches SET plan = '{'",
        "UPDATE batches SET plan = '[]'",
        "INSERT INTO events VALUES (1, 1, 'burnt', 1, '2024-05-04T12:00:00+00:00', NULL)",
        "INSERT INTO events VALUES (1, 1, 'ticked', 1, 'at noon', NULL)",
    ],
)
def test_damaged_rows_are_said_to_be_so(workshop: Workshop, batch_id: int, damage: str) -> None:
    with direct(workshop) as connection:
        connection.execute(damage)
    with pytest.raises(StoreError) as refused:
        workshop.batch(batch_id)
    assert str(refused.value).isprintable()


def test_a_newer_workshop_is_refused(workshop: Workshop) -> None:
    workshop.recent()
    with direct(workshop) as connection:
        connection.execute("INSERT INTO migrations (name) VALUES ('from tomorrow')")
    with pytest.raises(WorkshopError, match="newer"):
        workshop.recent()


def test_a_workshop_held_by_another_program(
    workshop: Workshop, batch_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workshop_module, "_BUSY_SECONDS", 0.05)
    with direct(workshop) as connection:
        connection.execute("BEGIN IMMEDIATE")
        with pytest.raises(WorkshopError, match="holds it"):
            workshop.append(batch_id, ticked(1), 1)
        connection.execute("ROLLBACK")
    assert workshop.append(batch_id, ticked(1), 1) == 1


def test_a_disk_that_takes_no_more(workshop: Workshop, batch_id: int) -> None:
    # The system's own limit on the size of files stands in for a full disk.
    script = (
        "import sys; from pathlib import Path; from workbench.store.database import Workshop\n"
        "from workbench.store.errors import WorkshopError\n"
        "try: Workshop.open(Path(sys.argv[1])).set_preference('x', 'y' * 500_000)\n"
        "except WorkshopError as error: print(error)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", script, str(workshop.folder)],
        capture_output=True,
        text=True,
        cwd=REPOSITORY,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000)),
        check=True,
    )
    assert "cannot be used" in ran.stdout
    assert not ran.stderr
    assert workshop.batch(batch_id).plan == PLAN
    assert integrity(workshop) == "ok"
