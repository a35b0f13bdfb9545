"""A maker's own file keeps its notes and its wording when the project is changed and saved."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from tests.effort import examples
from tests.store.strategies import projects
from tests.store.test_project_file import SAMPLES
from workbench.app.edits import with_piece, with_piece_moved, without_piece
from workbench.craft.fitting import copied
from workbench.craft.mixing import Mixing
from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.store.dump import project_text
from workbench.store.load import project_from_text
from workbench.store.project_file import (
    ProjectFile,
    is_still,
    loses_notes,
    read_project,
    read_project_file,
    write_project,
)
from workbench.store.toml_edit import with_changes

NOTED = """\
# Nine for the choir; the tenor section wants blue.
title = "Choir supper"   # not final
units = "in"
[card]
size = [4.250, "5 1/2"]  # fits the envelopes in the drawer
fold = "top"
paper = "cream card"
count = 9

# bought at the spring fair
[[papers]]
name = "cream card"
kind = "cardstock"
size = ["8 1/2", 11]
sheets = 6

[[papers]]
name = "reed # 4"  # the "#" is part of its name
kind = "patterned"
size = [
    12,  # across
    12,
]
sheets = 1

# the panel lies at the back
[[pieces]]
name = "panel"
size = [4, "5 1/4"]
from = ["reed # 4"]
per_card = 1  # said though it need not be

# and the words on it
[[pieces]]
name = "words"
size = [2, 1]
from = ["cream card"]
on = "panel"
"""
PROJECT = project_from_text(NOTED, "it")


def changed(project: Project) -> str:
    text = with_changes(NOTED, PROJECT, project)
    assert text is not None
    assert project_from_text(text, "it") == project
    return text


def test_only_the_line_that_changed_is_written_anew() -> None:
    text = changed(replace(PROJECT, card=replace(PROJECT.card, count=12)))
    assert text == NOTED.replace("count = 9", "count = 12")
    text = changed(replace(PROJECT, title="Choir lunch"))
    assert text == NOTED.replace("Choir supper", "Choir lunch")


def test_a_note_behind_a_value_stays_behind_the_new_one() -> None:
    size = replace(PROJECT.card.size, height=PROJECT.card.size.width)
    text = changed(replace(PROJECT, card=replace(PROJECT.card, size=size)))
    assert 'size = ["4 1/4", "4 1/4"]  # fits the envelopes in the drawer\n' in text


def test_notes_between_the_lines_of_a_value_stand_above_the_new_one() -> None:
    lined = NOTED.replace(
        'size = [4.250, "5 1/2"]  #', 'size = [ # wide\n  4.250,\n  "5 1/2", # "high"\n]  #'
    )
    before = project_from_text(lined, "it")
    assert before == PROJECT
    assert with_changes(lined, before, replace(before, title="Choir")) == lined.replace(
        "Choir supper", "Choir"
    )
    smaller = replace(before, card=replace(before.card, size=before.card.size.turned))
    text = with_changes(lined, before, smaller)
    assert text
    assert '# wide\n# "high"\nsize = ["5 1/2", "4 1/4"]  # fits the envelopes' in text


def test_what_is_new_comes_after_its_like_and_what_goes_takes_its_notes() -> None:
    text = changed(copied(PROJECT, "panel"))
    assert text.index('name = "panel"') < text.index("copy of panel") < text.index("and the words")
    assert "# the panel lies at the back\n[[pieces]]" in text
    text = changed(without_piece(PROJECT, "words"))
    assert "and the words" not in text
    assert "the panel lies" in text
    text = changed(replace(PROJECT, offcuts=(Offcut("cream card", PROJECT.card.size),)))
    assert text.startswith(NOTED)
    text = changed(replace(PROJECT, mixing=Mixing(wish="as a set")))
    assert text == NOTED + '\n[mixing]\nwish = "as a set"\n'


def test_a_piece_moved_or_renamed_keeps_its_notes() -> None:
    loose = replace(PROJECT, pieces=(PROJECT.pieces[0], replace(PROJECT.pieces[1], on="card")))
    text = changed(with_piece_moved(loose, "words", -1))
    assert text.index("# and the words on it\n[[pieces]]") < text.index("# the panel lies")
    renamed = with_piece(PROJECT, replace(PROJECT.pieces[0], name="mat"), replacing="panel")
    text = changed(renamed)
    assert '# the panel lies at the back\n[[pieces]]\nname = "mat"\n' in text


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_saved_and_taken_back_the_file_is_the_same_to_the_byte(
    mark: str, end: str, tmp_path: Path
) -> None:
    path = tmp_path / "choir.toml"
    path.write_bytes((mark + NOTED.replace("\n", end)).encode())
    first = read_project_file(path)
    written = write_project(path, without_piece(PROJECT, "words"), first)
    assert path.read_bytes() == written.content != first.content
    assert b"# the panel" in written.content
    assert (end.encode() in written.content) and (b"\r" in written.content) == (end == "\r\n")
    write_project(path, PROJECT, first)
    assert path.read_bytes() == first.content


def test_a_file_laid_out_in_another_way_is_told_of_before_its_notes_are_lost() -> None:
    other = NOTED.replace(
        "sheets = 6", 'sheets = 6\n[papers.strip]  # cut off\nedge = "left"\nwidth = "1/4"'
    )
    project = project_from_text(other, "it")
    source = ProjectFile(project, other.encode())
    longer = replace(project, title="Choir lunch")
    assert loses_notes(source, longer)
    assert not loses_notes(source, project)
    assert not loses_notes(ProjectFile(PROJECT, NOTED.encode()), replace(PROJECT, title="Lunch"))


def test_a_file_changed_by_another_hand_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "choir.toml"
    written = write_project(path, PROJECT)
    assert is_still(path, written.content)
    path.write_text(NOTED)
    assert not is_still(path, written.content)
    path.unlink()
    assert is_still(path, written.content)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_samples_keep_their_first_line(sample: Path) -> None:
    project = read_project(sample)
    text = sample.read_text()
    kept = with_changes(text, project, replace(project, title="Another"))
    assert kept is not None
    assert kept.splitlines()[0] == text.splitlines()[0]


@given(projects(), projects())
@settings(max_examples=examples(20), deadline=None)
def test_any_project_can_become_any_other(one: Project, other: Project) -> None:
    text = with_changes(project_text(one), one, other)
    assert text is not None
    assert project_from_text(text, "it") == other
    assert with_changes(project_text(one), one, one) == project_text(one)
