"""Every test has a workshop of its own, never the maker's; and none depends on a clock."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")


@pytest.fixture(autouse=True)
def workshop_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "workshop"
    monkeypatch.setenv("TRIMTALLY_HOME", str(folder))
    return folder
