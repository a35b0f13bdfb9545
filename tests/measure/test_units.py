"""How the conversion factors are loaded."""

import os
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

from workbench.measure.units import factor, per

CONVERT = "from workbench.measure.units import factor; print(factor('in', 'mm'))"


def run(code: str, cache: Path) -> str:
    home = {"HOME": str(cache), "XDG_CACHE_HOME": str(cache), "LOCALAPPDATA": str(cache)}
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, **home},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout.strip()


def test_factors_are_exact() -> None:
    # NBS Circular 572, addendum, 1960: 1 in = 25.4 mm; 1 lb = 0.45359237 kg.
    assert per("mm") == 1
    assert per("cm") == factor("cm", "mm") == 10
    assert per("in") == factor("in", "mm") == Fraction("25.4")
    assert factor("lb", "g") == Fraction("453.59237")
    # 1 point = 0.001 in = 0.0254 mm: the trade's unit for what TAPPI T 411 measures.
    assert per("thou") == Fraction("0.0254")


def test_pint_waits_until_it_is_needed(tmp_path: Path) -> None:
    rooms = "length, reading, writing, rule, weights"
    code = f"import sys; from workbench.measure import {rooms}; print('pint' in sys.modules)"
    assert run(code, tmp_path) == "False"


def test_a_home_that_cannot_be_written_does_no_harm(tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file where a folder should be")
    assert run(CONVERT, blocked) == "127/5"


def test_a_damaged_cache_does_no_harm(tmp_path: Path) -> None:
    assert run(CONVERT, tmp_path) == "127/5"
    cached = list(tmp_path.rglob("*.pickle"))
    assert cached
    for file in cached:
        file.write_bytes(b"")
    assert run(CONVERT, tmp_path) == "127/5"
