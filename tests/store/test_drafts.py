"""Drafts of what is not saved: kept, replaced and dropped, with what they were made of."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.making.plans import HARBOUR
from workbench.store.database import Workshop
from workbench.store.drafts import drafts, drop_draft, keep_draft
from workbench.store.errors import ProjectFileError

BASE = b'# by hand\ntitle = "Harbour"'


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop.open(tmp_path / "home")


def test_a_draft_is_kept_with_all_that_it_needs(workshop: Workshop) -> None:
    keep_draft(workshop, "a", Path("/cards/harbour.toml"), HARBOUR, BASE)
    (draft,) = drafts(Workshop.open(workshop.folder))
    assert (draft.key, draft.path, draft.title) == ("a", Path("/cards/harbour.toml"), HARBOUR.title)
    assert draft.project() == HARBOUR
    assert draft.base == BASE


def test_each_key_has_one_draft_and_the_latest_stands_first(workshop: Workshop) -> None:
    keep_draft(workshop, "a", None, HARBOUR, b"")
    keep_draft(workshop, "b", None, replace(HARBOUR, title="Fog"), b"")
    keep_draft(workshop, "a", None, replace(HARBOUR, title="Tide"), b"")
    assert [(draft.key, draft.path, draft.title) for draft in drafts(workshop)] == [
        ("a", None, "Tide"),
        ("b", None, "Fog"),
    ]
    drop_draft(workshop, "a")
    drop_draft(workshop, "nobody's")
    assert [draft.key for draft in drafts(workshop)] == ["b"]


def test_a_draft_that_cannot_be_read_is_refused_by_its_title(workshop: Workshop) -> None:
    keep_draft(workshop, "a", None, HARBOUR, b"no project")
    (draft,) = drafts(workshop)
    with pytest.raises(ProjectFileError, match=f"unsaved changes of “{HARBOUR.title}”"):
        draft.before()
