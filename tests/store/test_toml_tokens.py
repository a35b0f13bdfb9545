"""Statements of TOML texts, against the standard library's parser."""

import tomllib

import pytest

from tests.samples import SAMPLES
from tests.store.bad_files import GOOD
from workbench.store import toml_edit
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


def test_a_value_of_many_lines_is_not_read_once_for_each(monkeypatch: pytest.MonkeyPatch) -> None:
    text = GOOD.replace('from = ["moth dot"]', "from = [\n" + "# note\n" * 2000 + '"moth dot"]')
    read = tomllib.loads
    lengths: list[int] = []

    def counted(part: str) -> dict[str, object]:
        lengths.append(len(part))
        return read(part)

    monkeypatch.setattr(tomllib, "loads", counted)
    assert not toml_edit.has_notes(text.replace("# note", ""))
    assert sum(lengths) < 3 * len(text)
