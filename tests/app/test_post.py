"""The card by post on the Pieces page: a panel that follows edits, its form, and extras."""

from pathlib import Path

import pytest
from textual.widgets import DataTable, Static

from tests.app.running import LARGE, SMALL, opened, press, running, shown, type_over
from workbench.app.screens.post_forms import EnvelopeForm, ExtraForm, PostForm
from workbench.app.widgets.fields import Choice, YesNo
from workbench.craft.envelope import Posting
from workbench.craft.extra import Extra
from workbench.measure.length import Length
from workbench.store.preferences import preferences_of


async def test_the_panel_follows_every_edit(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        before = shown(app, "#post")
        assert "Posted" in before
        assert "check with your post office" in before.lower()
        await press(pilot, "down", "down", "x")
        assert shown(app, "#post") != before
        await press(pilot, "z")
        assert shown(app, "#post") == before
        await press(pilot, "u")
        assert " g, " in shown(app, "#post")


@pytest.mark.parametrize("size", [(60, 20), SMALL, LARGE])
async def test_what_the_form_says_scrolls_in_one_place(
    harbour: Path, size: tuple[int, int]
) -> None:
    async with running(harbour, size) as (app, pilot):
        await press(pilot, "v")
        assert isinstance(app.screen, PostForm)
        bars = [each.id for each in app.screen.query("*") if each.show_vertical_scrollbar]
        assert bars in ([], ["report-room"])
        room = app.screen.query_one("#report-room")
        assert room.size.height >= 5
        assert room.region.bottom <= app.screen.query_one("#keep").region.y


async def test_an_extra_is_added_to_the_piece_at_hand_changed_and_removed(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        before = shown(app, "#post")
        await press(pilot, "down", "g")
        assert isinstance(app.screen, ExtraForm)
        await type_over(pilot, "name", "bead")
        await type_over(pilot, "weight", "-1 g")
        assert "less than nothing" in shown(app, "#fault")
        await type_over(pilot, "weight", "2 g")
        await type_over(pilot, "thickness", "3 mm")
        await type_over(pilot, "per_card", "3")
        await press(pilot, "f4")
        assert opened(app).project.extras == (Extra("bead", "2 g", "3 mm", "panel", 3),)
        assert shown(app, "#post") != before
        assert "! 1 doubt about other parts" in shown(app, "#doubts")
        table = app.screen.query_one(DataTable)
        assert str(table.get_row_at(3)[0]) == "+ bead"
        await press(pilot, "down", "down")
        assert "3 on each card, on panel" in shown(app, "#words")
        await press(pilot, "enter")
        app.screen.query_one(YesNo).value = True
        await press(pilot, "f4")
        assert opened(app).project.extras[0].flat
        await press(pilot, "x")
        assert opened(app).project.extras == ()
        assert shown(app, "#post") == before


async def test_the_form_shows_all_and_changes_how_the_card_is_posted(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "v")
        assert isinstance(app.screen, PostForm)
        assert "Finished size" in report(app.screen)
        await press(pilot, "right")
        assert "By United Kingdom (Royal Mail): Letter" in report(app.screen)
        envelope = app.screen.query_one("#envelope", Choice)
        envelope.chosen = envelope.options.index("US A1")
        await type_over(pilot, "clearance", "10 mm")
        assert "too small" in shown(app, "#fault")
        envelope.chosen = envelope.options.index("US A10")
        await type_over(pilot, "clearance", "5 mm")
        assert "By United Kingdom (Royal Mail): Large Letter" in report(app.screen)
        await press(pilot, "f4")
        assert opened(app).project.posting == Posting("uk", "US A10", Length.of(5, "mm"))
        assert "! by United Kingdom" in shown(app, "#doubts")
        await press(pilot, "m")
        assert opened(app).project.posting.envelope != "US A10"
        assert shown(app, "#doubts") == ""


async def test_a_suggestion_is_taken_in_the_form(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "g")
        await type_over(pilot, "name", "bead")
        await type_over(pilot, "weight", "1 g")
        await press(pilot, "f4", "v")
        cheaper = app.screen.query_one("#cheaper", Choice)
        assert 'leave off "bead"' in cheaper.options
        cheaper.chosen = cheaper.options.index('leave off "bead"')
        await press(pilot, "f4")
        assert opened(app).project.extras == ()


async def test_a_piece_is_raised_on_foam_pads(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "enter")
        await type_over(pilot, "raised", "1 mm")
        await press(pilot, "f4")
        assert opened(app).project.pieces[0].raised == Length.of(1, "mm")
        assert "on foam pads" in shown(app, "#words")


async def test_changing_the_card_keeps_what_is_on_it(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "g")
        await type_over(pilot, "name", "bead")
        await type_over(pilot, "weight", "1 g")
        await press(pilot, "f4", "enter")
        await type_over(pilot, "count", "3")
        await press(pilot, "f4")
        assert opened(app).project.card.count == 3
        assert [extra.name for extra in opened(app).project.extras] == ["bead"]


async def test_the_post_and_the_room_are_settings(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "f5")
        post = app.screen.query_one("#post", Choice)
        post.chosen = post.options.index("Canada (Canada Post)")
        await type_over(pilot, "clearance", "1/4")
        await press(pilot, "f4")
        kept = preferences_of(app.workshop)
        assert (kept.post, kept.clearance) == ("ca", Length.of("1/4", "in"))
        await press(pilot, "v")
        assert "By Canada (Canada Post)" in report(app.screen)


async def test_a_bad_file_of_rules_is_said_and_the_built_in_ones_hold(
    harbour: Path, workshop_folder: Path
) -> None:
    (workshop_folder / "post").mkdir(parents=True)
    (workshop_folder / "post" / "us.toml").write_text("name = 3", encoding="utf-8")
    async with running(harbour) as (app, _):
        assert "Posted" in shown(app, "#post")
        assert any("us.toml" in notice.message for notice in app._notifications)


def report(screen: object) -> str:
    """What the report of the form says, drawn wide."""
    from rich.console import Console
    from textual.screen import Screen

    assert isinstance(screen, Screen)
    console = Console(width=200)
    with console.capture() as drawn:
        console.print(screen.query_one("#report", Static).content)
    return drawn.get()


async def test_an_envelope_and_its_liner_are_cut_from_paper(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "o")
        assert isinstance(app.screen, EnvelopeForm)
        assert "Blank" in shown(app, "#cut")
        await type_over(pilot, "flap", "0")
        assert "one of them is nothing" in shown(app, "#fault")
        await type_over(pilot, "flap", "2")
        liner = app.screen.query_one("#liner", Choice)
        liner.chosen = 1
        await press(pilot, "f4")
        names = [piece.name for piece in opened(app).project.pieces]
        assert names[-2:] == ["envelope blank", "envelope liner"]
        assert "cut from paper: letter" in shown(app, "#post")
        await press(pilot, *["down"] * 3)
        assert "glued to nothing" in shown(app, "#words")
        await press(pilot, "j", "e", "r")
        assert app.screen.query_one(DataTable)


async def test_an_envelope_of_ones_own_is_entered_and_taken(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "h")
        await type_over(pilot, "name", "linen square")
        await type_over(pilot, "size", "6 x 6 in")
        await type_over(pilot, "weight", "-7 g")
        assert "less than nothing" in shown(app, "#fault")
        await type_over(pilot, "weight", "7 g")
        await press(pilot, "f4")
        assert [each.name for each in opened(app).project.envelopes] == ["linen square"]
        assert "linen square: letter, sorted by hand" in shown(app, "#post")
