"""The Pieces: the card drawn, its layers changed."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from textual.widgets import Button, DataTable, Input

from tests.app.running import SMALL, opened, press, running, said, settled, shown, type_over
from tests.making.plans import GULL, HARBOUR, NET, inches, size
from workbench.app.app import TrimtallyApp
from workbench.app.screens.piece_forms import CardForm, PieceForm
from workbench.app.screens.piece_words import piece_words
from workbench.app.widgets.card_picture import CardPicture
from workbench.app.widgets.fields import Choice, YesNo
from workbench.app.widgets.pictures import Picture
from workbench.craft.card import Piece, Place, Rounding
from workbench.measure.length import Length
from workbench.measure.writing import SIXTEENTHS, nearest_mark
from workbench.store.project_file import write_project

LANTERNS = Path(__file__).parents[2] / "sample_projects" / "winter_fair_lanterns.toml"


def names(app: TrimtallyApp) -> list[str]:
    return [piece.name for piece in opened(app).project.pieces]


def mark(app: TrimtallyApp, label: str) -> YesNo:
    return next(mark for mark in app.screen.query(YesNo) if mark.label == label)


async def test_layers_are_listed_back_to_front_and_the_one_at_hand_is_told(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        table = app.screen.query_one(DataTable)
        assert [str(table.get_row_at(row)[0]) for row in range(3)] == ["card", "panel", "tide"]
        assert "2 cards, folded at the top" in shown(app, "#words")
        await press(pilot, "down", "down")
        assert "on panel: left, 7/8 from the bottom" in shown(app, "#words")
        await press(pilot, "up")
        assert "round top right, bottom right" in shown(app, "#words")


async def test_the_card_is_drawn_and_drawn_again_when_it_changes(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        before = "\n".join(app.screen.query_one(Picture).drawn.lines())
        assert "▀▄▀▄" in before
        assert "●" in before
        await press(pilot, "down", "down", "x")
        after = "\n".join(app.screen.query_one(Picture).drawn.lines())
        assert "●" not in after
        assert names(app) == ["panel"]


async def test_a_piece_is_added_in_front_of_the_one_at_hand(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "a")
        assert isinstance(app.screen, PieceForm)
        await type_over(pilot, "name", "cloud")
        await type_over(pilot, "size", "1 1/2 x 1")
        mark(app, GULL).action_next_choice()
        mark(app, NET).action_next_choice()
        await settled(pilot)
        assert "no paper is named" in shown(app, "#fault")
        mark(app, NET).action_next_choice()
        app.screen.query_one("#on", Choice).action_next_choice()
        mark(app, "top left").action_next_choice()
        mark(app, "on every card").action_next_choice()
        await type_over(pilot, "radius", "1/8")
        await type_over(pilot, "x", "Right")
        await type_over(pilot, "y", "2 1/4")
        await press(pilot, "f4")
        assert names(app) == ["panel", "cloud", "tide"]
        cloud = opened(app).project.piece("cloud")
        assert cloud.size == size("1 1/2", 1)
        assert cloud.papers == (NET,)
        assert cloud.place == Place("right", inches("2 1/4"))
        assert cloud.rounding == Rounding(("top left",), inches("1/8"))
        assert not cloud.needed


async def test_papers_keep_the_order_they_had(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "enter")
        mark(app, NET).action_next_choice()
        mark(app, NET).action_next_choice()
        await press(pilot, "f4")
        assert opened(app).project == HARBOUR


async def test_the_form_draws_the_card_as_it_would_be(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "down", "enter")
        before = shown(app, "#preview")
        await type_over(pilot, "y", "top")
        after = shown(app, "#preview")
        assert before != after
        await type_over(pilot, "y", "upwards")
        assert "from the bottom:" in shown(app, "#fault")
        assert shown(app, "#preview") == after


FAULTS = (
    ("name", "card", "taken by a part of every card"),
    ("name", "tide", "stands there twice"),
    ("size", "9 x 9", "larger than a sheet"),
    ("per_card", "0", "0 on each card is not possible"),
    ("radius", "2", "more than half the piece's shorter side"),
)


async def test_what_is_wrong_with_a_piece_is_told(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "enter")
        for field, text, told in FAULTS:
            before = app.screen.query_one(f"#{field}", Input).value
            await type_over(pilot, field, text)
            assert told in shown(app, "#fault")
            await type_over(pilot, field, before)
        await press(pilot, "escape")
        assert opened(app).project == HARBOUR


async def test_layers_are_reordered_and_the_cursor_goes_with_them(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "a")
        await type_over(pilot, "name", "cloud")
        await type_over(pilot, "size", "1 x 1")
        mark(app, NET).action_next_choice()
        await press(pilot, "f4")
        assert names(app) == ["cloud", "panel", "tide"]
        assert app.screen.query_one(DataTable).cursor_row == 1  # the next one goes upon it
        await press(pilot, "f", "f")
        assert names(app) == ["panel", "tide", "cloud"]
        assert app.screen.query_one(DataTable).cursor_row == 3
        await press(pilot, "f", "b")
        assert names(app) == ["panel", "cloud", "tide"]


async def test_a_piece_that_must_stay_in_front_or_carries_another_says_so(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "down", "b")
        assert 'it is glued to "panel" and cannot lie behind it' in said(app)
        await press(pilot, "up", "x")
        assert '"tide" is glued to it' in said(app)
        assert opened(app).project == HARBOUR


async def test_the_card_itself_is_changed(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "enter")
        assert isinstance(app.screen, CardForm)
        await type_over(pilot, "title", "Fog notes")
        await type_over(pilot, "count", "12")
        app.screen.query_one("#fold", Choice).action_next_choice()
        app.screen.query_one("#units", Choice).action_next_choice()
        await press(pilot, "f4")
        project = opened(app).project
        assert (project.title, project.units) == ("Fog notes", "mm")
        assert (project.card.count, project.card.fold) == (12, "side")
        assert project.pieces == HARBOUR.pieces


async def test_lengths_are_typed_in_the_unit_shown(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "u", "down", "down", "enter")
        await type_over(pilot, "size", "50 x 30")
        await press(pilot, "f4")
        assert opened(app).project.piece("tide").size.height.mm == 30


async def test_nudging_moves_by_a_mark_of_the_unit_shown_and_none_is_lost(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down")
        await pilot.press("l", "l", "i")
        await press(pilot, "j")
        panel = opened(app).project.piece("panel")
        assert panel.place == Place(inches("3/16"), inches("3/16"))
        await press(pilot, "u", "k")
        assert opened(app).project.piece("panel").place.y == inches("3/16") - Length.of(1, "mm")


async def test_a_nudge_over_the_edge_is_refused_in_words(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "j", "j", "j")
        assert "beyond the left" in said(app)


async def test_changes_are_taken_back_and_made_again(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "d", "x")
        assert names(app) == ["panel", "tide"]
        await press(pilot, "z")
        assert names(app) == ["panel", "copy of panel", "tide"]
        await press(pilot, "z", "z", "z")
        assert opened(app).project == HARBOUR
        assert not opened(app).changed
        await press(pilot, "y")
        assert names(app) == ["panel", "copy of panel", "tide"]


async def test_a_place_at_an_absurd_fraction_is_told_in_few_figures(tmp_path: Path) -> None:
    """20 mm is as short as any mark in inches; the other is 0.1249999989 in."""
    panel, tide = HARBOUR.pieces
    place = Place(Length.of(20, "mm"), inches("123456789/987654321"))
    path = tmp_path / "absurd.toml"
    write_project(path, replace(HARBOUR, pieces=(panel, replace(tide, place=place))))
    async with running(path) as (app, pilot):
        await press(pilot, "down", "down")
        assert "on panel: 20 mm from the left, ≈1/8 from the bottom" in shown(app, "#words")


async def test_a_doubt_about_no_part_of_the_card_is_told_with_the_card(
    tmp_path: Path, harbour: Path
) -> None:
    large = f'{harbour.read_text("utf-8")}\n[[offcuts]]\npaper = "{NET}"\nsize = [7, 7]\n'
    path = tmp_path / "large.toml"
    path.write_text(large, encoding="utf-8")
    async with running(path) as (app, pilot):
        await press(pilot, "home")
        assert f'! offcut of "{NET}": 7 in × 7 in is more than' in shown(app, "#doubts")
        await press(pilot, "down")
        assert "1 doubt about other parts" in shown(app, "#doubts")


async def test_a_doubt_is_told_and_mended_by_a_key(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "d", "up")
        table = app.screen.query_one(DataTable)
        assert [str(table.get_row_at(row)[2]) for row in range(4)] == ["", "!", "", ""]
        assert "hide it completely" in shown(app, "#doubts")
        await press(pilot, "up")
        assert "1 doubt about other parts" in shown(app, "#doubts")
        await press(pilot, "m")
        assert names(app) == ["copy of panel", "tide"]
        assert opened(app).project.piece("tide").on == "card"
        await press(pilot, "m")  # as it lies on the copy now
        assert opened(app).project.piece("tide").on == "copy of panel"
        assert shown(app, "#doubts") == ""


async def test_a_piece_is_fitted_with_a_form(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "e")
        await type_over(pilot, "by", "1/2")
        await press(pilot, "f4")
        assert opened(app).project.piece("panel").size == size(3, 4)
        await press(pilot, "down", "e")
        await press(pilot, "a", "a")  # the next choices that begin so: at the left, at the right
        await press(pilot, "f4")
        assert opened(app).project.piece("tide").place == Place("right", inches("7/8"))


async def test_a_new_project_is_made_of_the_card_in_another_size(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "n")
        await type_over(pilot, "title", "Small harbour")
        await type_over(pilot, "size", "3 1/2 x 5")
        await press(pilot, "f4")
        session = opened(app)
        assert session.path is None
        assert session.project.title == "Small harbour"
        assert session.project.piece("panel").size == size("3 1/4", "4 3/4")


async def test_the_inside_is_drawn_when_the_piece_at_hand_lies_there(tmp_path: Path) -> None:
    path = tmp_path / "inside.toml"
    sheet = Piece("sheet", size(3, 4), (GULL,), on="inside")
    write_project(path, replace(HARBOUR, pieces=(*HARBOUR.pieces, sheet)))
    async with running(path) as (app, pilot):
        await press(pilot, "down", "down", "down")
        drawn = "\n".join(app.screen.query_one(Picture).drawn.lines())
        assert "●" in drawn
        assert "▀▄" not in drawn
        assert "border 1/2 in all round" in shown(app, "#words")


async def test_a_click_takes_up_the_piece_in_front_and_the_mouse_drags_it(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        picture = app.screen.query_one(CardPicture)
        width, height = picture.drawn.width, picture.drawn.height
        corner = ((picture.size.width - width) // 2, (picture.size.height - height) // 2)
        inset = picture.content_region.offset - picture.region.offset
        x = inset.x + corner[0] + width // 2

        def at(share: float, right: int = 0) -> tuple[int, int]:
            return (x + right, inset.y + corner[1] + int(height * (1 - share)))

        table = app.screen.query_one(DataTable)
        for share, row in ((0.9, 1), (0.3, 2)):  # the panel above, the tide below
            await pilot.click(CardPicture, offset=at(share))
            assert table.cursor_row == row
        await pilot.mouse_down(CardPicture, offset=at(0.3))
        await pilot.hover(CardPicture, offset=at(0.3, right=4))
        await settled(pilot)
        assert opened(app).project == HARBOUR
        await pilot.mouse_up(CardPicture, offset=at(0.3, right=4))
        await settled(pilot)
        moved = opened(app).project.piece("tide").place.x
        assert isinstance(moved, Length)
        assert moved == nearest_mark(size(4, 4).width * Fraction(4, width), SIXTEENTHS).mark
        await press(pilot, "z")
        assert opened(app).project == HARBOUR


async def test_borders_are_shown_in_figures_on_demand(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        picture = app.screen.query_one(CardPicture)
        await press(pilot, "down", "r")
        assert "←1/8" in "\n".join(picture.drawn.lines())
        await press(pilot, "u")
        assert "←≈3" in "\n".join(picture.drawn.lines())
        await press(pilot, "r")
        assert "←" not in "\n".join(picture.drawn.lines())


async def test_a_blank_form_finds_no_fault_until_something_is_entered(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "a")
        assert shown(app, "#fault") == ""
        await type_over(pilot, "spare", "few")
        assert "spare in all" in shown(app, "#fault")
        assert "name" not in shown(app, "#fault")
        await press(pilot, "escape", "a", "f4")
        assert shown(app, "#fault")


async def test_a_radius_too_large_is_mended_by_key_or_click(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "down", "c")
        mark(app, "top left").value = True
        for mend in ("f5", "click"):
            await type_over(pilot, "radius", "2")
            assert "more than half" in shown(app, "#fault")
            assert app.screen.query_one("#mend", Button).display
            if mend == "f5":
                await press(pilot, "f5")
            else:
                await pilot.click("#mend")
                await settled(pilot)
            assert app.screen.query_one("#radius", Input).value == "1/2"
            assert not app.screen.query_one("#mend", Button).display
        await press(pilot, "f4")
        assert opened(app).project.piece("tide").rounding == Rounding(("top left",), inches("1/2"))


async def test_the_radius_and_spares_are_in_the_form_in_the_makers_unit(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "u", "a")
        assert app.screen.query_one("#radius", Input).value == "6"
        await press(pilot, "escape", "down", "c")
        await type_over(pilot, "spare", "2")
        await press(pilot, "f4")
        assert opened(app).project.piece("panel").spare == 2


@pytest.mark.parametrize("terminal", [SMALL, (60, 20)])
async def test_what_is_wrong_and_the_buttons_stay_in_sight_of_a_long_form(
    terminal: tuple[int, int],
) -> None:
    async with running(LANTERNS, size=terminal) as (app, pilot):
        await press(pilot, "down", "enter")
        await type_over(pilot, "size", "4 x")
        form = app.screen.query_one(".form").content_region
        fault, keep = (app.screen.query_one(name) for name in ("#fault", "#keep"))
        assert shown(app, "#fault").endswith("133 mm")
        assert form.contains_region(fault.region)
        assert form.contains_region(keep.region)
        assert fault.region.bottom <= keep.region.y


def test_how_far_a_piece_sticks_out_is_told_without_a_sign() -> None:
    wide = replace(HARBOUR.pieces[1], size=size("4", "1"))
    project = replace(HARBOUR, pieces=(HARBOUR.pieces[0], wide))
    told = list(piece_words(project, wide, 1, "in", "F7"))
    assert any("over right" in line for line in told)
    assert not any("-" in line for line in told)
