"""What is saved keeps its mode at every moment; of two windows one wins; a private one stays so."""

import os
import stat
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest

from tests.making.plans import HARBOUR, PLAN
from workbench.store.backup import back_up
from workbench.store.database import Workshop
from workbench.store.replacement import ChangedError, replace

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no such modes there")
ROUNDS = 40


def names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize("kept", [0o600, 0o640, 0o664])
def test_no_moment_of_a_save_shows_more_than_before(
    kept: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "card.toml"
    path.write_bytes(b"old")
    path.chmod(kept)
    seen: set[int] = set()
    flush = os.fsync

    def looked(handle: int) -> None:
        seen.update(mode(each) for each in tmp_path.iterdir())
        flush(handle)

    monkeypatch.setattr(os, "fsync", looked)
    replace(path, b"new")
    assert all(found & ~kept == 0 for found in seen)
    assert (mode(path), path.read_bytes()) == (kept, b"new")


def test_of_windows_that_save_at_once_just_one_has_saved(tmp_path: Path) -> None:
    path = tmp_path / "card.toml"
    for number in range(ROUNDS):
        before = b"before %d" % number
        path.write_bytes(before)
        start = Barrier(4)

        def saved(mine: bytes, before: bytes = before, start: Barrier = start) -> bytes | None:
            start.wait()
            try:
                replace(path, mine, before)
            except ChangedError:
                return None
            return mine

        with ThreadPoolExecutor(4) as windows:
            ended = list(windows.map(saved, (b"a", b"b", b"c", b"d")))
        (winner,) = [mine for mine in ended if mine]
        assert path.read_bytes() == winner
    assert names(tmp_path) == ["card.toml"]


KILLED = """
import os, signal, sys
from pathlib import Path
from workbench.store import replacement
replacement.os.fsync = lambda handle: os.kill(os.getpid(), signal.SIGKILL)
replacement.replace(Path(sys.argv[1]), b"new")
"""


def test_a_killed_save_leaves_the_old_file_and_the_next_one_tidies(tmp_path: Path) -> None:
    path = tmp_path / "card.toml"
    path.write_bytes(b"old")
    subprocess.run([sys.executable, "-c", KILLED, path], check=False)
    assert path.read_bytes() == b"old"
    assert len(names(tmp_path)) == 2
    replace(path, b"newer")
    assert names(tmp_path) == ["card.toml"]
    assert path.read_bytes() == b"newer"


def test_a_workshop_is_its_owners_alone(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        workshop = Workshop.open(tmp_path / "home")
        workshop.create_batch(HARBOUR, None, PLAN)
        back_up(workshop.file, tmp_path / "copy.sqlite")
        with workshop.reading():
            assert mode(workshop.folder) == 0o700
            assert {mode(file) for file in workshop.folder.iterdir() if file.is_file()} == {0o600}
        assert mode(tmp_path / "copy.sqlite") == 0o600
    finally:
        os.umask(before)


def test_a_workshop_that_was_open_to_others_is_closed_to_them(tmp_path: Path) -> None:
    workshop = Workshop.open(tmp_path)
    workshop.create_batch(HARBOUR, None, PLAN)
    workshop.file.chmod(0o644)
    folder = mode(tmp_path)
    assert workshop.batches()
    assert mode(workshop.file) == 0o600
    assert mode(tmp_path) == folder
