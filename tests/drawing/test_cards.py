from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import GULL, HARBOUR, NET, inches, size
from workbench.craft.card import INSIDE, Piece, Place, Rounding
from workbench.craft.paper import Size
from workbench.drawing.cards import a_mix, draw_card

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


def test_a_piece_of_two_cells_is_still_made_out() -> None:
    stamp = Piece("stamp", size("1/4", "1/2"), (NET,))
    lines = draw_card(replace(HARBOUR, pieces=(stamp,)), None, 40, 20).lines()
    assert [line[15:17] for line in lines[9:11]] == ["┌┐", "└┘"]


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
sizes = st.builds(Size, marks, marks)
places = st.builds(Place, marks, marks)
rooms = st.tuples(st.integers(1, 60), st.integers(1, 40))


@given(sizes, places, rooms)
def test_any_card_fits_its_room(piece_size: Size, place: Place, room: tuple[int, int]) -> None:
    """Also where a piece sticks out over the card."""
    radius = min(piece_size.width, piece_size.height) / 2
    piece = Piece("patch", piece_size, (NET,), place, Rounding(("top left",), radius))
    canvas = draw_card(replace(HARBOUR, pieces=(piece,)), None, *room)
    assert canvas.width <= room[0]
    assert canvas.height <= room[1]
