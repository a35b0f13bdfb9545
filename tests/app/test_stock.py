"""The Stock: looking, adding, changing, removing."""

from dataclasses import replace
from pathlib import Path

from rich.text import Text
from textual.widgets import DataTable, Input

from tests.app.bench import on_screen
from tests.app.running import opened, press, running, said, shown, type_over
from tests.making.plans import FOG, GULL, HARBOUR, NET, inches, size
from workbench.app.screens.paper_forms import OffcutForm, PaperForm
from workbench.app.screens.stock import StockScreen
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.fitted_table import FittedTable
from workbench.craft.paper import Back, Offcut, Strip
from workbench.store.project_file import write_project


def rows(app: object) -> list[list[str]]:
    table = app.screen.query_one(DataTable)  # type: ignore[attr-defined]
    return [[str(cell) for cell in table.get_row_at(row)[1:]] for row in range(table.row_count)]


async def test_every_paper_has_a_line_and_the_one_at_hand_is_told_in_full(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "down")
        assert isinstance(app.screen, StockScreen)
        assert rows(app) == [
            [FOG, "8 1/2 × 11 in", "1", "✢ any way", "solid"],
            [NET, "6 × 6 in", "1", "↕ up or down", "check"],
            [GULL, "6 × 6 in", "1", "↑ one way up", "dot"],
        ]
        words = shown(app, "#words")
        assert "gull dot: 1 sheet of 6 × 6 in" in words
        assert "has a right way up" in words
        assert "For panel, tide" in words


async def test_no_column_is_cut_off_by_offcuts_with_long_names(tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    long = replace(HARBOUR.papers[0], name="heavy laid paper of a year", print="speckle")
    offcuts = (Offcut(long.name, size("10 15/16", "10 15/16"), 12),)
    write_project(path, replace(HARBOUR, papers=(*HARBOUR.papers, long), offcuts=offcuts))
    async with running(path) as (app, pilot):
        await press(pilot, "1")
        assert app.screen.query_one(DataTable).virtual_size.width <= app.size.width
        assert rows(app)[-1][3] == "✢"


async def test_what_is_told_of_a_long_name_keeps_within_the_screen(tmp_path: Path) -> None:
    long = replace(HARBOUR.papers[0], name="heavy laid paper with the watermark of the year it was")
    path = tmp_path / "long.toml"
    write_project(path, replace(HARBOUR, papers=(*HARBOUR.papers, long)))
    async with running(path) as (app, pilot):
        await press(pilot, "1", "down", "down", "down")
        assert long.name in shown(app, "#words")
        assert app.screen.query_one("#words").region.right <= app.size.width


async def test_an_offcut_larger_than_its_sheet_is_doubted(tmp_path: Path) -> None:
    offcuts = (Offcut(NET, size(5, 6)), Offcut(NET, size(7, 7)))
    path = tmp_path / "large.toml"
    write_project(path, replace(HARBOUR, offcuts=offcuts))
    async with running(path) as (app, pilot):
        await press(pilot, "1", "down", "down", "down")
        assert "!" not in shown(app, "#words")
        await press(pilot, "down")
        assert "! 7 in × 7 in is more than a whole sheet" in shown(app, "#words")


async def test_lengths_are_shown_in_the_unit_asked_for(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "u")
        assert rows(app)[0][1] == "≈216 × ≈279 mm"
        assert shown(app, "#unit") == "mm"


async def test_a_paper_is_added_as_the_form_says(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "a")
        assert isinstance(app.screen, PaperForm)
        for field, text in (
            ("name", "anchor chain and cable"),
            ("size", "12 in x 30,5 cm"),
            ("sheets", "3"),
            ("print-name", "scallop"),
            ("colours", "#112233, #ffeedd"),
        ):
            await type_over(pilot, field, text)
        app.screen.query_one("#print", Choice).focus()
        await press(pilot, "left", "left")
        assert shown(app, "#fault") == ""
        await press(pilot, "f4")
        paper = opened(app).project.paper("anchor chain and cable")
        assert paper.size.width == inches(12)
        assert paper.size.height.mm == 305
        assert (paper.sheets, paper.print) == (3, "scallop")
        assert paper.colours == ("#112233", "#ffeedd")
        assert opened(app).changed
        assert "anchor chain and cable  " in on_screen(pilot)
        assert shown(app, "#title").startswith("(not saved) ")


async def test_a_longer_name_has_its_room_before_it_is_painted(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1")
        table = app.screen.query_one(FittedTable)
        for name in ("anchor chain and cable", "net"):
            table.refill(("Paper",), [[Text(name)]])
            (column,) = table.ordered_columns
            room = column.get_render_width(table) - 2 * table.cell_padding
            assert room == max(len("Paper"), len(name))


async def test_no_notice_lies_over_the_buttons_of_a_form(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "x")
        assert "still used" in said(app)
        await press(pilot, "a")
        assert said(app) == ""
        await press(pilot, "escape", "x")
        assert "still used" in said(app)


FAULTS = (
    ("name", "", "blank"),
    ("name", GULL, "stands there twice"),
    ("size", "six", "size:"),
    ("size", "0 x 6", "a side of nothing"),
    ("size", "6 x 5 1/2 1/4", "size:"),
    ("sheets", "-1", "less than nothing"),
    ("sheets", "¹", "whole number"),
    ("sheets", "9" * 30, "999” is too large; give 999999999 at most"),
    ("colours", "blurple", "is not a colour"),
)


async def test_what_is_wrong_is_told_as_one_types_and_nothing_is_kept(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "enter")
        for field, text, told in FAULTS:
            before = app.screen.query_one(f"#{field}", Input).value
            await type_over(pilot, field, text)
            assert told in shown(app, "#fault")
            await type_over(pilot, field, before)
            assert shown(app, "#fault") == ""
        await type_over(pilot, "size", "six")
        await press(pilot, "f4")
        assert isinstance(app.screen, PaperForm)
        await press(pilot, "escape")
        assert opened(app).project == HARBOUR


async def test_fields_are_walked_with_the_arrows_and_choices_made_with_them(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "c", "down", "enter", "down")
        kind = app.screen.query_one("#kind", Choice)
        assert kind.has_focus
        await press(pilot, "right")
        assert kind.value == "cardstock"
        await press(pilot, "left", "left")
        assert kind.value == "other"
        await press(pilot, "v")
        assert kind.value == "vellum"
        await press(pilot, "down", "up")
        assert kind.has_focus
        await press(pilot, "f4")
        assert opened(app).project.paper(NET).kind == "vellum"


async def test_fields_are_walked_with_the_arrows_where_not_all_have_room(harbour: Path) -> None:
    async with running(harbour, size=(80, 16)) as (app, pilot):
        await press(pilot, "1", "a")
        walked = []
        for key in ("down", "down", "up", "down", "down"):
            await press(pilot, key)
            walked.append(app.screen.focused.id if app.screen.focused else None)
        assert walked == ["size", "sheets", "size", "sheets", "kind"]


async def test_a_printed_strip_is_told_to_the_planner(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "enter")
        edge = app.screen.query_one("#edge", Choice)
        edge.focus()
        await press(pilot, "b")
        assert edge.value == "bottom"
        await press(pilot, "f4")
        assert "width of the strip: nothing is written here" in shown(app, "#fault")
        await type_over(pilot, "strip", "1/2")
        await press(pilot, "f4")
        assert opened(app).project.paper(NET).strip == Strip("bottom", inches("1/2"))
        assert "a printed strip at the bottom" in shown(app, "#words")


async def test_a_paper_in_use_is_not_removed_and_it_is_said_why(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "x")
        assert 'it is still used for "panel", "tide"' in said(app)
        assert opened(app).project == HARBOUR


async def test_an_offcut_is_added_changed_and_removed(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "f")
        assert isinstance(app.screen, OffcutForm)
        await type_over(pilot, "size", "2 x 3 1/2")
        await press(pilot, "f4")
        assert opened(app).project.offcuts == (Offcut(NET, size("2", "3 1/2")),)
        assert rows(app)[3][:3] == ["offcut of net weave", "2 × 3 1/2 in", "1"]
        await press(pilot, "down", "down", "enter")
        await type_over(pilot, "count", "4")
        await press(pilot, "f4")
        assert opened(app).project.offcuts[0].count == 4
        await press(pilot, "x")
        assert opened(app).project == HARBOUR


async def test_the_mouse_chooses_and_opens(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await pilot.click("Door", offset=(2, 0))
        await press(pilot)
        assert isinstance(app.screen, StockScreen)
        await pilot.click(DataTable, offset=(10, 2))
        await pilot.click(DataTable, offset=(10, 2))
        await press(pilot)
        assert isinstance(app.screen, PaperForm)
        await pilot.click("#kind")
        await pilot.click("#keep")
        await press(pilot)
        assert opened(app).project.paper(NET).kind == "cardstock"


async def test_names_are_shown_as_they_are(harbour: Path) -> None:
    odd = "[red]net[/] {x} $y"
    project = replace(
        HARBOUR,
        title="[b]Odd[/b] [@click=quit]",
        papers=(HARBOUR.papers[0], replace(HARBOUR.papers[1], name=odd), HARBOUR.papers[2]),
        pieces=tuple(replace(piece, papers=(odd, GULL)) for piece in HARBOUR.pieces),
    )
    write_project(harbour, project)
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down")
        assert rows(app)[1][0] == odd
        assert odd in shown(app, "#words")
        assert shown(app, "#title") == "[b]Odd[/b] [@click=quit]"
        await press(pilot, "x")
        assert odd in said(app)


async def test_a_paper_has_a_back_a_weight_and_a_thickness_in_its_form(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "c")
        await type_over(pilot, "weight", "heavy")
        assert shown(app, "#fault")
        await type_over(pilot, "weight", "120 gsm")
        await type_over(pilot, "thickness", "0.16 mm")
        await type_over(pilot, "back", "net back")
        app.screen.query_one("#back-print", Choice).focus()
        await press(pilot, "d")
        await type_over(pilot, "back-colours", "#112233 #ffffff")
        await press(pilot, "f4")
        paper = opened(app).project.paper(NET)
        assert (paper.weight, paper.thickness) == ("120 gsm", "0.16 mm")
        assert paper.back == Back("net back", "dot", ("#112233", "#ffffff"))
        await press(pilot, "c")
        await type_over(pilot, "back", "")
        await press(pilot, "f4")
        assert opened(app).project.paper(NET).back is None
