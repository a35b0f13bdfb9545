from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.making.plans import HARBOUR
from workbench.craft.contrast import contrast
from workbench.craft.paper import Paper, Size
from workbench.drawing.canvas import Box, Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.prints import PRINTS, colours, fill_print, outline, swatch
from workbench.measure.length import Length

FOOT = Size(Length.of(12, "in"), Length.of(12, "in"))
OTHERS = tuple(
    f"{colour} {motif}".strip()
    for colour in ("", "red", "blue", "old", "small", "winter", "two-way", "my")
    for motif in ("gulls", "waves", "leaves", "stars", "boats", "wheat", "bells", "hares", "kites")
)
SIZES = ((4, 1), (14, 4), (30, 9))
"""The scrap beside a name, the swatch below the stock, and the largest."""


def paper(print_: str, *colours_: str) -> Paper:
    return Paper("x", "patterned", FOOT, 1, print_, colours_)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_prints_differ_without_their_colours(width: int, height: int) -> None:
    drawn = {name: swatch(paper(name), width, height).lines() for name in (*PRINTS, *OTHERS)}
    for one, other in combinations(drawn, 2):
        assert drawn[one] != drawn[other], f"{one} looks like {other}"


@given(st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=20))
def test_any_name_has_a_print_of_its_own_that_is_not_blank(name: str) -> None:
    if name != "solid":
        assert any(swatch(paper(name), 8, 4).lines())
    assert swatch(paper(name), 8, 4).lines() == swatch(paper(name), 8, 4).lines()


def test_the_last_colour_is_the_ground_and_the_others_take_turns() -> None:
    canvas = swatch(paper("check", "#112233", "#445566", "#ffffff"), 8, 2)
    cells = [cell for row in canvas.rows() for cell in row]
    assert {cell.ground for cell in cells} == {"#ffffff"}
    assert {cell.ink for cell in cells} == {"#112233", "#445566"}


@pytest.mark.parametrize("inks", [1, 2, 3])
@pytest.mark.parametrize("name", [name for name in (*PRINTS, "gulls") if name != "solid"])
def test_every_ink_of_a_print_shows(name: str, inks: int) -> None:
    asked = ("#112233", "#445566", "#778899")[:inks]
    canvas = swatch(paper(name, *asked, "#ffffff"), 14, 4)
    cells = [cell for row in canvas.rows() for cell in row if cell.char != " "]
    assert {cell.ink for cell in cells} == set(asked)


def test_a_stripe_keeps_its_ink_from_top_to_bottom() -> None:
    rows = swatch(paper("stripe", "#112233", "#445566", "#ffffff"), 8, 3).rows()
    assert len({tuple(cell.ink for cell in row) for row in rows}) == 1


def test_a_paper_of_one_colour_is_marked_in_a_shade_of_it() -> None:
    assert colours(paper("dot", "#ffffff")) == (("#aaaaaa",), "#ffffff")
    assert colours(paper("dot", "#000000")) == (("#555555",), "#000000")


def test_outlines_stand_out_against_the_ground() -> None:
    assert outline(paper("solid", "#f6f1e5")) == "#1c1c1c"
    assert outline(paper("solid", "#22384f")) == "#f4f4f4"


@given(st.integers(0, 0xFFFFFF))
@example(0x00B200)  # a green as dark as light
def test_an_outline_is_made_out_on_any_ground(colour: int) -> None:
    """WCAG 2.2, success criterion 1.4.11: 3 to 1 for what is needed to make out a shape."""
    ground = f"#{colour:06x}"
    assert contrast(outline(paper("solid", ground)), ground) >= 3


def test_a_print_stays_in_its_box() -> None:
    canvas = Canvas(6, 3)
    fill_print(canvas, Box(2, 1, 2, 1), paper("check"))
    assert canvas.lines() == ["", "  ▄▀", ""]


THUMBNAIL = (14, 9)
SHOWN = st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=20)


def thumbnail(name: str) -> list[str]:
    """The smallest picture of a card in the Combinations, its panel of that print: no colours."""
    net = replace(HARBOUR.papers[1], print=name)
    project = replace(HARBOUR, papers=(HARBOUR.papers[0], net, HARBOUR.papers[2]))
    return draw_card(project, {"panel": net.name}, *THUMBNAIL).lines()


def test_two_prints_never_give_the_same_thumbnail_without_colour() -> None:
    drawn = {name: thumbnail(name) for name in (*PRINTS, *OTHERS)}
    for one, other in combinations(drawn, 2):
        assert drawn[one] != drawn[other], f"{one} looks like {other}"


@pytest.mark.parametrize(("width", "height"), SIZES)
@given(SHOWN, SHOWN)
def test_nor_do_prints_known_only_by_name(width: int, height: int, one: str, other: str) -> None:
    same = one == other
    drawn = [swatch(paper(name), width, height).lines() for name in (one, other)]
    assert (drawn[0] == drawn[1]) == same
    assert (thumbnail(one) == thumbnail(other)) == same
