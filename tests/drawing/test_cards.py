from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import GULL, HARBOUR, NET, inches, size
from workbench.craft.card import INSIDE, Piece, Place, Rounding
from workbench.craft.paper import Size
from workbench.drawing.cards import a_mix, draw_card
from workbench.measure.length import Length

LAYERS = {"panel": NET, "tide": GULL}


def test_a_card_is_drawn_to_scale_with_its_layers_over_one_another() -> None:
    assert draw_card(HARBOUR, LAYERS, 40, 20).lines() == [
        "┌──────────────────────────────┐",
        "│┌────────────────────────────╮│",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "│┌────────────────────────────┐│",
        "││ ●   ●   ●   ●   ●   ●   ●  ││",
        "││   ●   ●   ●   ●   ●   ●   ●││",
        "│└────────────────────────────┘│",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "││▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄││",
        "│└────────────────────────────╯│",
        "└──────────────────────────────┘",
    ]


def test_a_low_piece_keeps_room_for_its_print() -> None:
    lines = draw_card(HARBOUR, LAYERS, 16, 10).lines()
    assert any("┌" in line and "●" in line and "┐" in line for line in lines)


def test_the_marked_piece_is_made_out() -> None:
    plain = draw_card(HARBOUR, LAYERS, 40, 20)
    marked = draw_card(HARBOUR, LAYERS, 40, 20, marked="tide")
    assert plain.lines() == marked.lines()
    changed = [
        (x, y)
        for y in range(20)
        for x in range(marked.width)
        if marked.cell(x, y) != plain.cell(x, y)
    ]
    assert all(marked.cell(*at).reverse for at in changed)
    assert {y for _, y in changed} == {12, 13, 14, 15}


def test_what_a_card_does_not_get_or_carries_inside_is_not_drawn() -> None:
    inside = replace(HARBOUR.pieces[1], on=INSIDE)
    project = replace(HARBOUR, pieces=(HARBOUR.pieces[0], inside))
    bare = draw_card(HARBOUR, {"panel": NET}, 40, 20).lines()
    assert draw_card(project, LAYERS, 40, 20).lines() == bare


def test_a_mix_shows_no_print_twice_where_it_can_be_helped() -> None:
    assert a_mix(HARBOUR) == {"panel": NET, "tide": GULL}
    third = Piece("cloud", size(1, 1), (NET, GULL))
    assert a_mix(replace(HARBOUR, pieces=(*HARBOUR.pieces, third)))["cloud"] == NET


marks = st.integers(1, 64).map(lambda n: inches(f"{n}/16"))


@given(marks, marks, marks, marks, st.integers(1, 60), st.integers(1, 40))
def test_any_card_fits_its_room(
    width: Length, height: Length, x: Length, y: Length, columns: int, rows: int
) -> None:
    """Also where a piece sticks out over the card."""
    shortest = min(width, height)
    piece = Piece(
        "patch",
        Size(width, height),
        (NET,),
        Place(x, y),
        Rounding(("top left",), shortest / 2),
    )
    canvas = draw_card(replace(HARBOUR, pieces=(piece,)), None, columns, rows)
    assert canvas.width <= columns
    assert canvas.height <= rows
