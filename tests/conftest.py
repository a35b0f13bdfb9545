"""Every test has a workshop of its own, never the maker's."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def workshop_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "workshop"
    monkeypatch.setenv("TRIMTALLY_HOME", str(folder))
    return folder
