"""Prints as SVG patterns: each another, whole in its tile, and in the colours of its paper."""

import re
from itertools import combinations
from xml.etree.ElementTree import fromstring, tostring

import pytest

from tests.drawing.test_prints import OTHERS, paper
from workbench.drawing.patterns import TILE, fill_of, pattern, swatch_svg
from workbench.drawing.prints import PRINTS, colours

DRAWN = [name for name in PRINTS if name != "solid"]
COLOURS = ("#2f6f8f", "#f4efe4")


def test_no_two_prints_have_the_same_shapes() -> None:
    drawn = {name: tostring(pattern(paper(name), 1)) for name in (*DRAWN, *OTHERS)}
    for one, other in combinations(drawn, 2):
        assert drawn[one] != drawn[other], f"{one} looks like {other}"


@pytest.mark.parametrize("name", DRAWN)
def test_a_tile_is_in_the_colours_of_the_paper_alone(name: str) -> None:
    printed = paper(name, *COLOURS)
    inks, ground = colours(printed)
    tile = pattern(printed, 3)
    assert (tile.get("width"), tile.get("height")) == (str(TILE), str(TILE))
    used = set(re.findall("#[0-9a-f]{6}", tostring(tile, encoding="unicode")))
    assert used <= {*inks, ground}
    assert ground in used
    assert used & set(inks)


def test_a_swatch_shows_the_pattern_that_it_brings() -> None:
    root = fromstring(swatch_svg(paper("dot", *COLOURS), 11, 6))
    names = {"svg": "http://www.w3.org/2000/svg"}
    (tile,) = root.findall("svg:defs/svg:pattern", names)
    (scrap,) = root.findall("svg:rect", names)
    assert scrap.get("fill") == f"url(#{tile.get('id')})"


def test_a_plain_paper_has_no_pattern() -> None:
    plain = paper("solid", COLOURS[0])
    assert fill_of(plain, 1) == colours(plain).ground
    assert "pattern" not in swatch_svg(plain, 11, 6)
