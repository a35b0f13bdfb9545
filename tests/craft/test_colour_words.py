"""CSS Color Module Level 4, named colours."""

import pytest
from PIL.ImageColor import colormap

from workbench.craft.colour_words import _OF_PAPERS, colours_of
from workbench.craft.errors import CraftError


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("Sea Green,", ("#2e8b57",)),
        ("#2F6F8F", ("#2f6f8f",)),
        ("teal ivory", ("#008080", "#fffff0")),
        ("slate grey, rebeccapurple", ("#708090", "#663399")),
        ("", ()),
        ("cream kraft", ("#f6eed9", "#b98d5e")),  # ours: no standard names the colours of papers
    ],
)
def test_colours_by_word(text: str, codes: tuple[str, ...]) -> None:
    assert colours_of(text) == codes


def test_no_word_of_ours_takes_the_place_of_one_of_css() -> None:
    assert not _OF_PAPERS.keys() & colormap.keys()
    assert all(colours_of(word) == (code,) for word, code in _OF_PAPERS.items())


@pytest.mark.parametrize("word", ["mauvish", "#12345", "#12345678", "transparent", "rgb(1,2,3)"])
def test_what_is_no_colour_is_refused(word: str) -> None:
    with pytest.raises(CraftError, match="is not a colour"):
        colours_of(word)
