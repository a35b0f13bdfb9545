"""Several of a piece on a card on the Pieces page: each is drawn, nudged and dragged by itself."""

from pathlib import Path

import pytest
from textual.widgets import DataTable

from tests.app.running import opened, press, running, settled, shown, type_over
from tests.craft.test_placed_copies import SHELLS
from workbench.app.screens.piece_forms import PieceForm
from workbench.app.widgets.card_picture import CardPicture
from workbench.craft.card import Place
from workbench.measure.length import Length
from workbench.store.project_file import write_project


@pytest.fixture
def shells(tmp_path: Path) -> Path:
    path = tmp_path / "shells.toml"
    write_project(path, SHELLS)
    return path


async def test_each_has_a_line_is_nudged_alone_and_that_is_taken_back(shells: Path) -> None:
    async with running(shells) as (app, pilot):
        table = app.screen.query_one(DataTable)
        lines = [str(table.get_row_at(row)[0]) for row in range(table.row_count)]
        assert lines == ["card", "panel", "shell", "shell 2", "shell 3"]
        await press(pilot, "down", "down", "down", "l")
        assert "number 2 on panel: 2 1/16 from the left" in shown(app, "#words")
        piece = opened(app).project.piece("shell")
        assert piece.place == SHELLS.piece("shell").place
        assert piece.places[1] == SHELLS.piece("shell").places[1]
        await press(pilot, "z")
        assert opened(app).project == SHELLS


async def test_the_mouse_takes_one_up_and_drags_it(shells: Path) -> None:
    async with running(shells) as (app, pilot):
        picture, table = app.screen.query_one(CardPicture), app.screen.query_one(DataTable)
        front = SHELLS.card.size
        x, y = Length.of(2, "in") + Length.of(3, "mm"), Length.of(18, "mm")
        across = (x + Length.of(3, "mm")).ratio(front.width)
        picture.post_message(CardPicture.Pressed(across, y.ratio(front.height)))
        await settled(pilot)
        assert table.cursor_row == 3
        step = Length.of(1, "in").ratio(front.width)
        picture.post_message(CardPicture.Dragged(step, step * 0, dropped=True))
        await settled(pilot)
        piece = opened(app).project.piece("shell")
        assert piece.places[0] == Place(Length.of(3, "in"), Length.of(1, "in") / 2)
        assert piece.places[1] == SHELLS.piece("shell").places[1]


async def test_a_key_lays_them_in_each_way_in_turn_and_x_takes_one_off(shells: Path) -> None:
    async with running(shells) as (app, pilot):
        await press(pilot, "down", "down")
        found = []
        for _ in range(4):
            await press(pilot, "f6")
            found.append(opened(app).project.piece("shell").spread)
        assert found == ["loose", "mirrored", "in a row", "placed"]
        await press(pilot, "down", "x")
        piece = opened(app).project.piece("shell")
        assert (piece.per_card, len(piece.places)) == (2, 1)


async def test_the_form_keeps_the_places_and_gives_new_ones_theirs(shells: Path) -> None:
    async with running(shells) as (app, pilot):
        await press(pilot, "down", "down", "c")
        assert isinstance(app.screen, PieceForm)
        assert app.screen.read() == SHELLS
        await type_over(pilot, "per_card", "4")
        await press(pilot, "f4")
        piece = opened(app).project.piece("shell")
        assert piece.places[:2] == SHELLS.piece("shell").places
        assert len(piece.places) == 3
