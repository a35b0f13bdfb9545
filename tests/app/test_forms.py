"""What all forms have in common: going on, keeping, faults, sizes by name, short papers."""

from pathlib import Path

from textual.widgets import Button, Input, Label

from tests.app.running import opened, press, running, settled, shown, type_over
from tests.making.plans import GULL, NET, inches, size
from workbench.app.screens.own_steps import StepForm
from workbench.app.screens.paper_forms import PaperForm
from workbench.app.screens.piece_forms import PieceForm
from workbench.app.screens.stock import StockScreen
from workbench.app.widgets.card_picture import CardPicture
from workbench.app.widgets.fields import Choice


async def test_enter_goes_on_in_every_field_and_the_button_keeps(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "enter", "enter", "enter")
        assert isinstance(app.focused, Choice)
        for _ in range(4):
            await press(pilot, "enter")
        assert isinstance(app.focused, Button)
        assert app.focused.id == "keep"


async def test_all_faults_are_told_marked_and_the_first_is_gone_to(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "a")
        assert isinstance(app.screen, PaperForm)
        await type_over(pilot, "size", "wide")
        await type_over(pilot, "sheets", "some")
        app.screen.query_one("#colours").focus()
        await press(pilot, "f4")
        told = shown(app, "#fault")
        assert "name" in told
        assert "size:" in told
        assert "sheets on hand:" in told
        signs = [str(sign.visual) for sign in app.screen.query(".sign").results(Label)]
        assert signs.count("!") == 3
        assert app.focused is app.screen.query_one("#name")


async def test_a_size_is_read_by_name_and_shown_so(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "c")
        await type_over(pilot, "size", "letter")
        await press(pilot, "f4")
        assert opened(app).project.paper(NET).size == size("8 1/2", 11)
        await press(pilot, "c")
        assert app.screen.query_one("#size", Input).value == "Letter"


async def test_a_length_in_another_unit_shows_it_even_where_it_is_narrow(harbour: Path) -> None:
    async with running(harbour, size=(60, 20)) as (app, pilot):
        await press(pilot, "1", "down", "c")
        await type_over(pilot, "size", "105 mm x 148 mm")
        await press(pilot, "f4", "c")
        field = app.screen.query_one("#size", Input)
        assert field.value == "A6"
        await type_over(pilot, "size", "104 mm x 148 mm")
        assert field.size.width > len(field.value)
        await type_over(pilot, "size", "104 mm x 148 mm" + " " * 60)
        await settled(pilot)
        assert "…" in [str(sign.visual) for sign in app.screen.query(".sign").results(Label)]


async def test_a_paper_like_another_is_two_keys_besides_its_name(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "d")
        await press(pilot, *"reed")
        await press(pilot, "f4")
        assert isinstance(app.screen, StockScreen)
        new, like = opened(app).project.paper("reed"), opened(app).project.paper(NET)
        assert (new.size, new.print, new.kind) == (like.size, like.print, like.kind)


async def test_a_paper_named_after_a_print_is_drawn_in_it(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "d")
        await press(pilot, *"moth", "space", *"floral")
        await press(pilot, "f4")
        assert opened(app).project.paper("moth floral").print == "floral"


async def test_several_papers_are_added_at_once_and_cut_for_what_mixes(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "a")
        await type_over(pilot, "name", "reed")
        await type_over(pilot, "like", "4")
        mixed = next(mark for mark in app.screen.query("YesNo") if mark.name == "mixed")
        mixed.focus()
        await press(pilot, "space", "f4")
        project = opened(app).project
        assert [paper.name for paper in project.papers[3:]] == [
            "reed",
            "reed 2",
            "reed 3",
            "reed 4",
        ]
        assert {"reed", "reed 4", NET, GULL} <= set(project.piece("panel").papers)


async def test_a_palette_fills_the_colours_in(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "down", "c")
        app.screen.query_one("#palette").focus()
        await press(pilot, "right")
        assert app.screen.query_one("#colours", Input).value == "teal, ivory"
        await press(pilot, "f4")
        # CSS Color Module Level 4, named colours.
        assert opened(app).project.paper(NET).colours == ("#008080", "#fffff0")


async def test_a_new_piece_begins_with_a_border_and_all_prints(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "a")
        assert isinstance(app.screen, PieceForm)
        await press(pilot, *"mat", "f4")
        project = opened(app).project
        assert project.piece("mat").papers == (NET, GULL)
        panel = project.piece("panel").size
        assert project.piece("mat").size.width == panel.width - inches("1/4")


async def test_a_step_of_her_own_is_added_changed_and_removed(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "down", "t", "a")
        assert isinstance(app.screen, StepForm)
        assert app.screen.query_one("#on", Choice).value == "panel"
        await type_over(pilot, "name", "punch a hole")
        await type_over(pilot, "minutes", "1 1/2")
        await type_over(pilot, "size", "1/8 x 1/8")
        await type_over(pilot, "places", "1/2")
        assert "is no place" in shown(app, "#fault")
        await type_over(pilot, "places", "1/2, 1/2; 1, 1/2")
        await press(pilot, "f4")
        (step,) = opened(app).project.steps
        assert (step.name, step.on, float(step.minutes)) == ("punch a hole", "panel", 1.5)
        assert [hole.x for hole in step.holes] == [inches("1/2"), inches(1)]
        await press(pilot, "escape")
        assert "○" in "\n".join(app.screen.query_one(CardPicture).drawn.lines())
        await press(pilot, "t", "x")
        assert opened(app).project.steps == ()


async def test_each_of_many_faults_is_seen_where_there_is_little_room(harbour: Path) -> None:
    async with running(harbour, (60, 20)) as (app, pilot):
        await press(pilot, "1", "a")
        for field, wrong in (("size", "wide"), ("sheets", "some"), ("colours", "blurple")):
            await type_over(pilot, field, wrong)
        await press(pilot, "f4")
        faults = {"name": "name:", "size": "size:", "sheets": "sheets", "colours": "colours:"}
        assert shown(app, "#fault").startswith("4 faults")
        for field, told in faults.items():
            app.screen.query_one(f"#{field}").focus()
            await settled(pilot)
            assert shown(app, "#fault").splitlines()[1].startswith(told)
            assert app.screen.query_one("#fault").scroll_y == 0
