"""A project as the text of its file: a heading for each thing, a line for each key."""

import tomllib

import pytest

from tests.making.plans import HARBOUR
from tests.store.bad_files import GOOD
from workbench.craft.project import Project
from workbench.store.dump import project_blocks, project_text
from workbench.store.load import project_from_text

PROJECTS = [HARBOUR, project_from_text(GOOD, "it")]


@pytest.mark.parametrize("project", PROJECTS, ids=lambda project: project.title)
def test_the_blocks_are_the_whole_text_and_the_text_is_the_project(project: Project) -> None:
    text = project_text(project)
    assert text == "\n".join(block.text for block in project_blocks(project))
    assert project_from_text(text, "it") == project


@pytest.mark.parametrize("project", PROJECTS, ids=lambda project: project.title)
def test_every_key_has_one_line_of_its_own(project: Project) -> None:
    for block in project_blocks(project):
        for key, line in block.lines.items():
            assert list(tomllib.loads(line)) == [key]
            assert "\n" not in line


def test_things_of_a_list_are_told_apart_by_their_names() -> None:
    blocks = list(project_blocks(HARBOUR))
    names = [block.name for block in blocks if block.heading == "[[papers]]"]
    assert names == [paper.name for paper in HARBOUR.papers]
    assert [block.heading for block in blocks][:2] == ["", "[card]"]
