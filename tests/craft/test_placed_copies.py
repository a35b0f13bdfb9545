"""Several of a piece on a card, each in a place of its own."""

from dataclasses import replace

import pytest
from shapely import unary_union

from tests.craft.cards import shape
from tests.making.plans import FOG, HARBOUR, inches, size
from workbench.craft.card import BASE, Piece, Place
from workbench.craft.checks import findings
from workbench.craft.conversion import in_unit
from workbench.craft.errors import CraftError
from workbench.craft.fitting import (
    dragged,
    each_placed,
    nudged,
    spread_out,
    taken_away,
    without_copy,
)
from workbench.craft.geometry import laid_out, punched, top_piece_at
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.piles import piles
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.craft.surface import seen
from workbench.drawing.card_figure import Callout, card_figure
from workbench.drawing.cards import draw_card
from workbench.drawing.svg import card_svg
from workbench.drawing.two_units import TwoUnits
from workbench.making.assembly import layers_of
from workbench.measure.length import Length
from workbench.measure.writing import graduation_for
from workbench.post.figures import card_figures
from workbench.publish.tasks import whole_look
from workbench.store.dump import project_text
from workbench.store.load import project_from_text

SHELL = Piece(
    "shell",
    size("1/2", "1/2"),
    (FOG,),
    Place(inches("1/4"), inches("1/4")),
    per_card=3,
    on="panel",
    spread="placed",
    places=(Place(inches(2), inches("1/2")), Place(inches("2 1/4"), inches("3 1/2"))),
)
PANEL = HARBOUR.pieces[0]
SHELLS = replace(HARBOUR, pieces=(PANEL, SHELL))


def places(project: Project, name: str = "shell") -> list[tuple[Length, Length]]:
    """Where each lies on the card."""
    return [(each.x, each.y) for each in laid_out(project) if each.piece.name == name]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"places": ()}, "places are given for 0 after the first, where 2 follow"),
        ({"spread": "loose"}, "only those that are each placed have places of their own"),
    ],
)
def test_as_many_places_are_asked_as_there_are_copies(wrong: dict[str, object], told: str) -> None:
    with pytest.raises(CraftError, match=told):
        replace(SHELL, **wrong)  # type: ignore[arg-type]


def test_each_lies_where_it_is_placed_and_moves_alone() -> None:
    before = places(SHELLS)
    edge = inches("1/8")
    assert before == [
        (edge + inches("1/4"), edge + inches("1/4")),
        (edge + inches(2), edge + inches("1/2")),
        (edge + inches("2 1/4"), edge + inches("3 1/2")),
    ]
    after = places(nudged(SHELLS, "shell", inches("1/16"), inches("-1/8"), 2))
    assert after == [before[0], (before[1][0] + inches("1/16"), before[1][1] - edge), before[2]]


def test_a_pattern_is_made_free_without_moving_anything() -> None:
    row = spread_out(SHELLS, "shell", "in a row")
    assert row.piece("shell").places == ()
    free = spread_out(row, "shell", "placed")
    assert places(free) == places(row)
    assert (
        len(set(places(spread_out(spread_out(SHELLS, "shell", "loose"), "shell", "placed")))) == 3
    )


def test_places_that_are_there_are_kept_and_others_are_added() -> None:
    four = replace(SHELL, per_card=4, spread="in a row", places=())
    project = each_placed(replace(SHELLS, pieces=(PANEL, four)), "shell", SHELL.places)
    assert project.piece("shell").places[:2] == SHELL.places
    assert len(project.piece("shell").places) == 3


def test_one_is_taken_off_and_the_others_stay() -> None:
    before = places(SHELLS)
    assert places(without_copy(SHELLS, "shell", 2)) == [before[0], before[2]]
    assert places(without_copy(SHELLS, "shell", 1)) == before[1:]


def test_the_one_that_is_dragged_goes_with_the_mouse_in_a_pattern_too() -> None:
    mirrored = replace(SHELLS, pieces=(PANEL, replace(SHELL, spread="mirrored", places=())))
    for project in (SHELLS, mirrored):
        for number in (1, 2, 3):
            moved = dragged(project, "shell", inches("1/16"), inches("1/8"), number)
            was, now = places(project)[number - 1], places(moved)[number - 1]
            assert now == (was[0] + inches("1/16"), was[1] + inches("1/8"))


def test_what_shows_of_all_of_them_is_what_shapely_finds() -> None:
    """Shapely is a general library of plane geometry."""
    layers = seen(SHELLS)
    shapes = [shape(each.extent) for each in laid_out(SHELLS) if each.piece.name == "shell"]
    area = sum(float(layer.area) for layer in layers if layer.piece == "shell")
    assert area == pytest.approx(unary_union(shapes).area)
    assert [layer.name for layer in layers] == [BASE, "panel", "shell", "shell 2", "shell 3"]


def test_those_that_lie_apart_do_not_pile_up_by_post() -> None:
    assert max(len(pile.front) for pile in piles(SHELLS)) == 2
    loose = spread_out(SHELLS, "shell", "loose")
    assert card_figures(SHELLS).thickness.high < card_figures(loose).thickness.high


def test_each_is_doubted_by_itself_and_its_mend_moves_it_alone() -> None:
    out = replace(SHELL, places=(SHELL.places[0], Place(inches("3 1/2"), inches(1))))
    project = replace(SHELLS, pieces=(PANEL, out))
    doubt = next(each for each in findings(project) if each.kind == "sticks out")
    assert doubt.wrong == "number 3 sticks out 1/8 in over the edge of the card"
    assert doubt.mended
    assert places(doubt.mended)[:2] == places(project)[:2]
    assert not [each for each in findings(doubt.mended) if each.kind == "sticks out"]


def test_one_that_also_lies_on_the_mat_is_doubted() -> None:
    mat = Piece("mat", size("1 1/4", "1 1/4"), (FOG,), Place("right", "top"), on="panel")
    on_mat = replace(SHELL, places=(SHELL.places[0], Place(inches("2 3/4"), inches("3 3/4"))))
    project = replace(SHELLS, pieces=(PANEL, mat, on_mat))
    (doubt,) = [each for each in findings(project) if each.kind == "also on"]
    assert doubt.wrong == "number 3 is glued to the panel, but it also lies on the mat"
    assert doubt.mended is None  # the others do not lie on the mat
    alone = replace(
        project, pieces=(PANEL, mat, replace(on_mat, per_card=1, places=(), place=on_mat.places[1]))
    )
    (doubt,) = [each for each in findings(alone) if each.kind == "also on"]
    assert doubt.mended
    assert places(doubt.mended) == places(alone)


def test_a_thin_border_of_one_is_mended_by_moving_it() -> None:
    near = replace(SHELL, places=(SHELL.places[0], Place(inches("1/64"), inches(2))))
    project = replace(SHELLS, pieces=(PANEL, near))
    doubt = next(each for each in findings(project) if each.kind == "thin border")
    assert doubt.wrong.startswith("number 3 leaves a border of only")
    assert doubt.mended
    assert doubt.mended.piece("shell").size == SHELL.size
    assert not [each for each in findings(doubt.mended) if each.kind == "thin border"]


def test_one_that_is_hidden_is_taken_off_the_card() -> None:
    cover = Piece("cover", size(1, 1), (FOG,), Place(inches(2), inches("3 1/4")), on="panel")
    project = replace(SHELLS, pieces=(PANEL, SHELL, cover))
    doubt = next(each for each in findings(project) if each.kind == "hidden")
    assert "number 3" in doubt.wrong
    assert doubt.mended == without_copy(project, "shell", 3)


def test_holes_are_punched_in_each() -> None:
    hole = Hole(inches("1/4"), inches("1/4"), size("1/8", "1/8"))
    project = replace(SHELLS, steps=(OwnStep("punch", "shell", holes=(hole,)),))
    found = [extent.left for _, extent in punched(project, inside=False)]
    assert [left - inches("3/16") for left in found] == [x for x, _ in places(project)]


def test_each_is_drawn_made_out_and_taken_up() -> None:
    alone = replace(SHELLS, pieces=(PANEL,))
    plain = draw_card(SHELLS, None, 60, 40)
    assert plain.lines() != draw_card(alone, None, 60, 40).lines()
    third = draw_card(SHELLS, None, 60, 40, marked="shell", number=3)
    every = draw_card(SHELLS, None, 60, 40, marked="shell")
    reversed_ = [
        sum(each.cell(x, y).reverse for x in range(each.width) for y in range(each.height))
        for each in (third, every)
    ]
    assert 0 < reversed_[0] < reversed_[1]
    x, y = places(SHELLS)[2]
    copy = top_piece_at(SHELLS, x, y, inside=False)
    assert copy is not None
    assert (copy.piece, copy.number, copy.layer) == (SHELL, 3, "shell 3")
    assert card_svg(SHELLS, None).count('data-layer="shell"') == 3


def test_the_guide_points_at_one_and_the_bench_tells_the_place_of_each() -> None:
    callouts = [Callout(name, name[0], name, "") for name in (BASE, "panel", "shell")]
    assert card_figure(SHELLS, callouts, TwoUnits("in")).count("<circle") >= 6
    laid = layers_of(SHELLS, whole_look(SHELLS), graduation_for("in"))
    assert [each.how for each in laid if each.name.startswith("shell")] == [
        "on the panel, 1/4 in from the left, 1/4 in from the bottom",
        "on the panel, 2 in from the left, 1/2 in from the bottom",
        "on the panel, 2 1/4 in from the left, 3 1/2 in from the bottom",
    ]


def test_places_follow_another_size_another_unit_and_what_is_taken_away() -> None:
    larger = in_size(SHELLS, size("4 1/4", "5 1/2"))
    for (x, y), (was_x, was_y) in zip(places(larger)[1:], places(SHELLS)[1:], strict=True):
        assert x > was_x
        assert y >= was_y
    metric = in_unit(SHELLS, "mm")
    for (x, y), (was_x, was_y) in zip(places(metric), places(SHELLS), strict=True):
        assert abs(x - was_x) <= Length.of(3, "mm")
        assert abs(y - was_y) <= Length.of(3, "mm")
    assert places(taken_away(SHELLS, "panel")) == places(SHELLS)


def test_places_are_kept_in_the_file() -> None:
    text = project_text(SHELLS)
    assert 'places = [{ x = 2, y = "1/2" }, { x = "2 1/4", y = "3 1/2" }]' in text
    assert project_from_text(text, "shells.toml") == SHELLS
