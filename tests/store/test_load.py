"""The text of a project file read: whole, or refused in one line."""

import pytest

from tests.store.bad_files import GOOD
from workbench.store.errors import ProjectFileError
from workbench.store.load import project_from_text


def test_bare_numbers_count_the_unit_of_the_file_wherever_it_stands() -> None:
    project = project_from_text(GOOD, "it")
    assert project.units == "in"
    lines = GOOD.splitlines(keepends=True)
    (units,) = (line for line in lines if line.startswith("units"))
    late = "".join(line for line in lines if line != units)
    head, brace, rest = late.partition("\n[")
    assert project_from_text(f"{head}\n{units}{brace}{rest}", "it") == project


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("  \n", "it: it is empty"),
        ("title = ", "it: line 1, column"),
        ("title = 3\n" + GOOD.partition("\n")[2], "it: title"),
        (GOOD + "\n[tools]\n", "tools"),
        (GOOD.replace("count =", "counts ="), "card"),
    ],
)
def test_a_fault_is_told_in_one_line_with_its_place(text: str, wrong: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        project_from_text(text, "it")
    assert wrong in str(caught.value)
    assert "\n" not in str(caught.value)
