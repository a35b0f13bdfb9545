"""The sample projects and their plans, each planned once a test run, whoever asks first.

The workers of one run share plans through a folder of the system's for temporary files, under the
run's own id; a run without workers keeps them in memory alone.
"""

import os
import pickle
import tempfile
from functools import cache
from pathlib import Path

from workbench.craft.project import Project
from workbench.planning import Plan, make_plan
from workbench.store.project_file import read_project

SAMPLES = sorted((Path(__file__).parents[1] / "sample_projects").glob("*.toml"))
NAMES = [path.stem for path in SAMPLES]


@cache
def project_of(name: str) -> Project:
    """The sample called `name`."""
    return read_project(next(path for path in SAMPLES if path.stem == name))


@cache
def plan_of(name: str) -> Plan:
    """What `make_plan` makes of it, on the usual trimmer."""
    run = os.environ.get("PYTEST_XDIST_TESTRUNUID")
    if run is None:
        return make_plan(project_of(name))
    kept = Path(tempfile.gettempdir()) / f"trimtally-tests-{os.getuid()}-{run}" / f"{name}.pickle"
    if kept.exists():
        plan = pickle.loads(kept.read_bytes())
        assert isinstance(plan, Plan)
        return plan
    plan = make_plan(project_of(name))
    kept.parent.mkdir(mode=0o700, exist_ok=True)
    unfinished = kept.with_suffix(f".{os.getpid()}")
    unfinished.write_bytes(pickle.dumps(plan))
    unfinished.replace(kept)
    return plan
