"""The sample projects, their plans and what else takes long, made once a test run for all.

The workers of one run share it through a folder of the system's for temporary files, under the
run's own id; a run without workers keeps it in memory alone.
"""

import json
import os
import pickle
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeVar

from workbench.craft.project import Project
from workbench.planning import Plan
from workbench.store.plan_data import plan_from_data
from workbench.store.project_file import read_project

SAMPLES = sorted((Path(__file__).parents[1] / "sample_projects").glob("*.toml"))
NAMES = [path.stem for path in SAMPLES]


_T = TypeVar("_T")
_made: dict[str, object] = {}


@cache
def project_of(name: str) -> Project:
    """The sample called `name`."""
    return read_project(next(path for path in SAMPLES if path.stem == name))


def plan_of(name: str) -> Plan:
    """The plan of it on the usual trimmer, read from what is printed of it."""
    return shared(f"plan of {name}", lambda: plan_from_data(json.loads(printed_plan(name))))


def printed_plan(name: str) -> str:
    """What `trimtally plan --json` prints of it: a process of its own, with another hash seed."""
    return shared(f"plan of {name} as printed", lambda: _printed(name))


def _printed(name: str) -> str:
    seed = next(seed for seed in ("1", "2") if seed != os.environ.get("PYTHONHASHSEED"))
    file = next(path for path in SAMPLES if path.stem == name)
    with tempfile.TemporaryDirectory() as home:
        ran = subprocess.run(
            [sys.executable, "-m", "workbench", "plan", file, "--json"],
            cwd=Path(__file__).parents[1],
            env=os.environ | {"PYTHONHASHSEED": seed, "TRIMTALLY_HOME": home},
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
        )
    assert (ran.returncode, ran.stderr) == (0, "")
    return ran.stdout


def shared(name: str, make: Callable[[], _T]) -> _T:
    """What `make` makes, which every test of the run that gives the same `name` gets."""
    if name not in _made:
        _made[name] = _kept(name, make)
    return _made[name]  # type: ignore[return-value]


def _kept(name: str, make: Callable[[], _T]) -> _T:
    run = os.environ.get("PYTEST_XDIST_TESTRUNUID")
    if run is None:
        return make()
    kept = Path(tempfile.gettempdir()) / f"trimtally-tests-{os.getuid()}-{run}" / f"{name}.pickle"
    if kept.exists():
        return pickle.loads(kept.read_bytes())  # type: ignore[no-any-return]
    made = make()
    kept.parent.mkdir(mode=0o700, exist_ok=True)
    unfinished = kept.with_suffix(f".{os.getpid()}")
    unfinished.write_bytes(pickle.dumps(made))
    unfinished.replace(kept)
    return made
