"""Pieces lie where they are placed, on what they are glued to."""

from fractions import Fraction

from hypothesis import given

from tests.craft.cards import cards
from tests.craft.projects import mm, piece, project, size
from workbench.craft.card import INSIDE, Card, Place
from workbench.craft.geometry import bearer_extent, front_extent, placements
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import Length


def test_pieces_lie_where_they_are_placed() -> None:
    placed = placements(
        project(
            piece(),
            piece("mat", size=size(50, 40), on="panel", place=Place("right", mm(10))),
            piece("patch", size=size(40, 30), on="mat", place=Place("centre", "top")),
            piece("verse", size=size(80, 100), on=INSIDE, place=Place("left", "bottom")),
            piece("stamp", size=size(20, 20), on="verse"),
        )
    )
    assert [(p.x, p.y, p.inside) for p in placed] == [
        (mm(5), mm(5), False),
        (mm(5 + 40), mm(5 + 10), False),
        (mm(45 + 5), mm(15 + 10), False),
        (mm(0), mm(0), True),
        (mm(30), mm(40), True),
    ]


def test_a_panel_of_4_3_4_leaves_an_even_eighth() -> None:
    """(5 - 4 3/4) / 2 = 1/8 in, exactly."""
    front = Size(Length.of(5, "in"), Length.of(7, "in"))
    panel = Size(Length.of(Fraction(19, 4), "in"), front.height)
    (placed,) = placements(
        project(
            piece(size=panel),
            card=Card(front, "none", "fern", 1),
        )
    )
    assert placed.x * 8 == Length.of(1, "in")


@given(cards())
def test_the_bearer_of_a_piece_is_the_card_or_the_piece_it_is_glued_to(project: Project) -> None:
    found = {placed.piece.name: placed.extent for placed in placements(project)}
    for each in project.pieces:
        wanted = found.get(each.on, front_extent(project))
        assert bearer_extent(project, each.name) == wanted
