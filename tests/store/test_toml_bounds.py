"""Small files made to take a machine: each is refused within a second and 200 MB."""

import subprocess
import sys
from pathlib import Path

import pytest

from workbench.store.errors import ProjectFileError
from workbench.store.load import project_from_text
from workbench.store.ordinary import OddFileError, read_ordinary
from workbench.store.toml_bounds import MOST_DEPTH, check_bounds

_MB = 1_000_000
# Processor seconds and megabytes of a process that imports the reader and reads one file.
_READ = """
import resource, sys
from pathlib import Path
from workbench.store.errors import ProjectFileError
from workbench.store.project_file import read_project
resource.setrlimit(resource.RLIMIT_CPU, (5, 5))
resource.setrlimit(resource.RLIMIT_AS, (600_000_000, 600_000_000))
try:
    read_project(Path(sys.argv[1]))
except ProjectFileError as error:
    used = resource.getrusage(resource.RUSAGE_SELF)
    # The peak that getrusage tells is at first that of the process that started this one.
    status = Path("/proc/self/status")
    peak = used.ru_maxrss
    if status.exists():
        peak = int(status.read_text().split("VmHWM:")[1].split()[0])
    print(used.ru_utime + used.ru_stime, peak / 1000)
    print(error)
"""
HOSTILE = {
    "a key of many parts": "a." * 499_000 + "a = 1\n",
    "a heading of many parts": "[" + "a." * 499_000 + "a]\n",
    "a key of many quoted parts": '"".' * 330_000 + '"" = 1\n',
    "many headings of some parts": "".join(f"[a{n}.b.c.d.e]\n" for n in range(55_000)),
    "many headings": "".join(f"[k{n}]\n" for n in range(100_000)),
    "many keys": "".join(f"k{n} = 0\n" for n in range(80_000)),
    "many values": "x = [" + "1," * 490_000 + "]\n",
    "lists in lists": "x = " + "[" * 990_000,
    "tables in tables": "x = " + "{a=" * 330_000,
    "lists behind quotes": "x = ['''a''''', " + "[" * 900_000,
    "quotes that never end": 'x = "' + '\\"' * 490_000,
    "a long number last": "".join(f"k{n} = 0\n" for n in range(80_000)) + "z = " + "9" * 6_000,
    "a long number in parts": "x = " + "9_" * 490_000 + "9",
}


@pytest.mark.skipif(sys.platform == "win32", reason="no such limits there")
@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_no_small_file_takes_the_machine(text: str, tmp_path: Path) -> None:
    path = tmp_path / "hostile.toml"
    path.write_text(text, encoding="utf-8")
    assert path.stat().st_size <= _MB
    run = subprocess.run(
        [sys.executable, "-c", _READ, path], capture_output=True, text=True, check=False
    )
    assert run.stderr == ""
    used, refusal = run.stdout.splitlines()
    seconds, megabytes = map(float, used.split())
    assert refusal.startswith(f"{path}: ")
    assert megabytes < 200
    assert seconds < 3  # three times what it may take where nothing else runs


@pytest.mark.parametrize(
    "text",
    [
        'a = """[[[[[[[[[[[[[[[[[[[["""',
        "a = '''\n[[[[[[[[[[[[[[[[[[[[\n''''' # [[[[[[[[[[[[[[[[[[[[",
        'a = "a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.q.r.s" # a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.q.r.s',
        'a = "[[[[[[[[[[[[[[[[[[[[\\"" # "',
        f"# {'9' * 5000}\na = '{'9' * 5000}'",
        "[[a]]\n" * 100,
        f"a = {'[' * MOST_DEPTH}{']' * MOST_DEPTH}",
    ],
)
def test_what_is_quoted_or_noted_counts_for_nothing(text: str) -> None:
    check_bounds(text, "it")


def test_the_line_is_told() -> None:
    with pytest.raises(ProjectFileError, match="it: line 3: a key has 17 parts"):
        project_from_text('title = "x"\n\n' + ".".join("abcdefghijklmnopq") + " = 1", "it")


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="this system has no /proc")
def test_files_whose_size_lies_are_not_read() -> None:
    """proc(5): its files say that they hold nothing, and reading some waits or takes what is
    read away from others; sysfs(5): its files say that they hold a page."""
    assert read_ordinary(Path("/proc/self/maps"), 1) == b""
    with pytest.raises(OddFileError, match="more or less than it says"):
        read_ordinary(Path("/sys/kernel/mm/transparent_hugepage/enabled"), 1)
