from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from tests.craft.cards import cards, shape
from tests.making.plans import GULL, HARBOUR, NET, inches, size
from workbench.craft.card import INSIDE, Piece, Place, Rounding
from workbench.craft.geometry import front_extent, placements
from workbench.craft.paper import Back, Size
from workbench.craft.project import Project
from workbench.drawing.canvas import fit
from workbench.drawing.cards import Scale, a_mix, draw_card

LAYERS = {"panel": NET, "tide": GULL}


def test_a_card_is_drawn_to_scale_with_its_layers_over_one_another() -> None:
    assert draw_card(HARBOUR, LAYERS, 40, 20).lines() == [
        "▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀",
        "▏▏▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▙▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▕▕",
        "▏▏ ●   ●   ●   ●   ●   ●   ●  ▕▕",
        "▏▏   ●   ●   ●   ●   ●   ●   ●▕▕",
        "▏▏▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▀▄▕▕",
        "▏▏▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▛▕",
        "▏▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▕",
    ]


def test_a_low_piece_keeps_room_for_its_print() -> None:
    lines = draw_card(HARBOUR, LAYERS, 16, 10).lines()
    assert any("▏" in line and "●" in line and "▕" in line for line in lines)
    assert not any(sign in line for line in lines for sign in "[]┌┐")


def test_a_piece_of_two_cells_is_still_made_out() -> None:
    stamp = Piece("stamp", size("1/4", "1/2"), (NET,))
    lines = draw_card(replace(HARBOUR, pieces=(stamp,)), None, 40, 20).lines()
    assert [line[15:17] for line in lines[9:11]] == ["▏▕", "▏▕"]


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


@given(cards(), st.integers(8, 90), st.integers(6, 40))
def test_every_edge_is_drawn_at_the_cell_where_it_lies(
    project: Project, columns: int, rows: int
) -> None:
    """Against Shapely: scaled to cells, no edge is further off than half a cell."""
    across, down = fit(project.card.size, columns, rows)
    scale = Scale(project.card.size, across, down)
    _, _, width, height = shape(front_extent(project)).bounds
    for placed in placements(project):
        box = scale.box(placed.extent)
        true = affinity.scale(
            shape(placed.extent), across / width, down / height, origin=(0, 0)
        ).bounds
        for drawn, edge, least in (
            ((box.x, box.x + box.width), (true[0], true[2]), box.width),
            ((down - box.y - box.height, down - box.y), (true[1], true[3]), box.height),
        ):
            if least > 1:  # what is narrower than a cell is drawn a cell wide
                assert max(abs(drawn[0] - edge[0]), abs(drawn[1] - edge[1])) <= 0.5 + 1e-9


def test_the_fold_is_a_heavy_edge() -> None:
    top = replace(HARBOUR, pieces=())
    assert draw_card(top, LAYERS, 16, 10).lines()[0] == "▀" * 16
    side = replace(HARBOUR, card=replace(HARBOUR.card, fold="side"), pieces=())
    assert {line[0] for line in draw_card(side, LAYERS, 16, 10).lines()} == {"▌"}
    inside = draw_card(side, LAYERS, 16, 10, inside=True).lines()
    assert {line[-1] for line in inside} == {"▐"}


def test_either_face_of_a_paper_is_drawn() -> None:
    net = replace(HARBOUR.papers[1], back=Back("net back", "stripe"))
    project = replace(HARBOUR, papers=(HARBOUR.papers[0], net, HARBOUR.papers[2]))
    assert "▌▌▌" in draw_card(project, {"panel": "net back"}, 40, 20).lines()[5]
    assert a_mix(project)["tide"] == "net back"


def test_borders_stand_in_figures_at_the_edges_of_the_piece() -> None:
    lines = draw_card(HARBOUR, None, 48, 30, marked="panel", measured="in").lines()
    text = "\n".join(lines)
    for words in ("←1/8", "1/8→", "↑1/8", "↓1/8"):
        assert text.count(words) == 1
    middle = next(line for line in lines if "←" in line)
    assert middle.index("←1/8") < 3
    assert middle.rindex("1/8→") > 40
    assert lines.index(next(line for line in lines if "↑" in line)) < 2
    metric = "\n".join(draw_card(HARBOUR, None, 48, 30, marked="tide", measured="mm").lines())
    for words in ("←0", "0→", "↓≈22", "↑≈73"):
        assert words in metric


@pytest.mark.parametrize(("columns", "rows"), [(8, 4), (14, 9), (20, 12)])
def test_figures_never_cover_one_another(columns: int, rows: int) -> None:
    for name in ("panel", "tide"):
        text = "\n".join(
            draw_card(HARBOUR, None, columns, rows, marked=name, measured="in").lines()
        )
        for arrow in "←→↑↓":
            assert text.count(arrow) <= 1
        assert "←" in text
