"""Statements of TOML texts, against the standard library's parser."""

import tomllib
from dataclasses import replace

import pytest

from tests.samples import SAMPLES
from tests.store.bad_files import GOOD
from workbench.store.load import project_from_text
from workbench.store.toml_edit import with_changes
from workbench.store.toml_tokens import statements

TEXTS = [
    GOOD,
    *(path.read_text(encoding="utf-8") for path in SAMPLES),
    'a = """\nx # y\n""" # note\nb = 1\n',
    "a = '''\n[\n'''\nb = [\n1, # ]\n2 ] # note",
    'a = "]" # [\nb = { x = "}" }\n\n"c#d" = "\\"" # }\n',
]


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_each_statement_is_one_that_can_be_read_by_itself(text: str) -> None:
    found = list(statements(text))
    assert "".join(found) == text
    for statement in found:
        said = tomllib.loads(statement)
        assert len(said) <= 1
        # None could end sooner.
        lines = statement.splitlines(keepends=True)
        for line in range(1, len(lines)):
            with pytest.raises(tomllib.TOMLDecodeError):
                tomllib.loads("".join(lines[:line]))


LINES = GOOD.replace('from = ["moth dot"]', "from = [\n" + "# note\n" * 2000 + '"moth dot"]')
COLOURS = GOOD.replace('colours = ["', 'colours = ["' + '#2f6f8f", "' * 2000)


@pytest.mark.parametrize("text", [LINES, COLOURS], ids=["many lines", "many signs"])
def test_no_value_is_read_over_and_over(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    project = project_from_text(text, "it")
    read = tomllib.loads
    lengths: list[int] = []

    def counted(part: str) -> dict[str, object]:
        lengths.append(len(part))
        return read(part)

    monkeypatch.setattr(tomllib, "loads", counted)
    assert with_changes(text, project, replace(project, title="Choir"))
    assert sum(lengths) < 3 * len(text)
