"""The words of errors: places counted as people count, and what is nearest to right."""

import tomllib

import pytest

from workbench.store.error_messages import not_toml, place_of, unknown_key

DATA = {"pieces": [{"name": "mat"}, {"name": "panel"}], "offcuts": [{"paper": "fern"}]}


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ((), "the file"),
        (("card", "size"), "card, size"),
        (("pieces", 1, "size", 0), 'pieces[2] "panel", size[1]'),
        (("offcuts", 0), 'offcuts[1] "fern"'),
    ],
)
def test_a_place_is_told_by_numbers_from_one_and_names(
    path: tuple[str | int, ...], words: str
) -> None:
    assert place_of(path, DATA).translate(str.maketrans("“”", '""')) == words


@pytest.mark.parametrize(
    ("text", "place", "wrong"),
    [
        ("a = 1\na = 2\n", "line 2", "stands there twice"),
        ("size = 5 1/4\n", "line 1, column 10", "something follows the value"),
        ('name = "x\n', "line 1, column 10", "a character cannot stand there"),
        ("list = [1, 2", "line 1", "a list does not end"),
        ("name\n", "line 1", "a key has no value"),
        ("day = 2024-02-30\n", "line 1", "no such day"),
    ],
)
def test_text_that_is_no_toml_is_told_by_line_and_column(text: str, place: str, wrong: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(text)
    told = str(not_toml(caught.value, text, "it"))
    assert told.startswith(f"it: {place}")
    assert wrong in told


def test_the_most_alike_is_offered_and_nothing_where_none_is() -> None:
    assert unknown_key("cuont", ("count", "size"))[1] == 'did you mean "count"?'
    assert unknown_key("zzz", ("count", "size"))[1] == "its keys are count, size"
