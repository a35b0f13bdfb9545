"""What no typeface of the pages has is told; the outside check is PDF/UA-1, which forbids it."""

from dataclasses import replace

import pytest
import typst

from tests.publish.guides import NAMES, recipe_of
from workbench.publish import pages
from workbench.publish.signs import unprintable, unprintable_words


@pytest.mark.parametrize("name", NAMES)
def test_all_of_a_sample_can_be_printed(name: str) -> None:
    assert unprintable(recipe_of(name)) == ()


def test_signs_of_other_writings_and_faces_are_told_once_each() -> None:
    recipe = replace(recipe_of(NAMES[0]), title="Ж é ♥ 潮 🎄 潮")
    assert unprintable(recipe) == ("潮", "🎄")
    words = unprintable_words(("潮", "🎄"))
    assert words.startswith("2 signs cannot be printed: 潮 🎄")
    with pytest.raises(typst.TypstError, match="潮"):
        pages._typeset(recipe, "A4", "pdf", standards=("ua-1",))


def test_many_signs_are_told_as_many() -> None:
    recipe = replace(recipe_of(NAMES[0]), title="".join(map(chr, range(0x4E00, 0x4F00))))
    words = unprintable_words(unprintable(recipe))
    assert words.startswith("Many signs cannot be printed: 一 丁 丂 七 丄 丅 …")
