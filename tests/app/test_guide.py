"""The Guide page: what it shows, where it writes, and the card adapted for another reader."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Button, Input

from tests.app.conftest import Look
from tests.app.running import LARGE, opened, press, running, said, shown, type_over, until
from tests.making.plans import HARBOUR, PLAN
from workbench.app.screens.adapt_form import AdaptedScreen
from workbench.app.screens.guide import GuideScreen
from workbench.app.screens.imprint_form import ImprintForm
from workbench.app.widgets.questions import PathQuestion
from workbench.craft.imprint import Imprint
from workbench.craft.sheet_sizes import SHEETS
from workbench.making.plan_index import PlanIndex
from workbench.publish.adaptation import Adaptation, Wishes
from workbench.store.project_file import write_project

pytestmark = pytest.mark.usefixtures("planned")


async def in_guide(pilot: Pilot[None]) -> GuideScreen:
    """The page with its pages typeset."""
    await press(pilot, "5")
    screen = pilot.app.screen
    assert isinstance(screen, GuideScreen)
    await until(pilot, lambda: " page" in shown(pilot.app, "#choices"))  # type: ignore[arg-type]
    return screen


async def answer(pilot: Pilot[None], path: Path) -> None:
    await until(pilot, lambda: isinstance(pilot.app.screen, PathQuestion))
    pilot.app.screen.query_one(Input).value = str(path)
    await press(pilot, "enter")


@pytest.mark.parametrize("size", [(80, 24), LARGE])
async def test_it_looks_as_it_should(harbour: Path, size: tuple[int, int], look: Look) -> None:
    async with running(harbour, size=size) as (_, pilot):
        await in_guide(pilot)
        await look(pilot, "guide")


async def test_units_and_paper_take_effect_at_once(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await in_guide(pilot)
        assert shown(app, "#choices").startswith("Letter · inches first")
        assert "4 × 5 in (101.6 × 127 mm)" in shown(app, "#text")
        await press(pilot, "l", "u")
        await until(pilot, lambda: "101.6 × 127 mm (4 × 5 in)" in shown(app, "#text"))
        assert shown(app, "#choices").startswith("A4 · millimetres first")


async def test_pages_are_turned_where_there_is_room_for_them(harbour: Path) -> None:
    async with running(harbour, size=LARGE) as (app, pilot):
        screen = await in_guide(pilot)
        assert shown(app, "#choices").endswith("page 1")
        await press(pilot, "right")
        assert shown(app, "#choices").endswith("page 2")
        await press(pilot, "left", "left")
        assert not shown(app, "#choices").endswith("page 1")
        assert screen.query_one("#page").display


@pytest.mark.parametrize(
    ("key", "name"), [("enter", "guide.html"), ("c", "cards.svg"), ("t", "cues.txt")]
)
async def test_what_is_written_is_said(harbour: Path, key: str, name: str) -> None:
    async with running(harbour) as (app, pilot):
        await in_guide(pilot)
        await press(pilot, key)
        file = harbour.parent / name
        await answer(pilot, file)
        await until(pilot, lambda: "Written" in shown(app, "#where"))
        assert file.stat().st_size > 0


async def test_an_ending_it_does_not_know_is_refused_in_words(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await in_guide(pilot)
        await press(pilot, "enter")
        await answer(pilot, harbour.parent / "guide.docx")
        await until(pilot, lambda: "let it end in" in said(app))
        assert not (harbour.parent / "guide.docx").exists()


async def test_what_was_written_is_opened(harbour: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened_urls: list[str] = []
    async with running(harbour) as (app, pilot):
        monkeypatch.setattr(app, "open_url", opened_urls.append)
        await in_guide(pilot)
        await press(pilot, "o")
        assert "Nothing was written" in said(app)
        await press(pilot, "enter")
        file = harbour.parent / "guide.md"
        await answer(pilot, file)
        await until(pilot, lambda: "Written" in shown(app, "#where"))
        await press(pilot, "o")
        assert opened_urls == [file.as_uri()]


async def test_a_card_is_adapted_and_taken_and_taken_back(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(harbour) as (app, pilot):
        await in_guide(pilot)
        before = opened(app).project
        # Planning is that of a hand-made plan here: only what is asked and taken is looked at.
        asked = []

        def adapted(project: object, wishes: object, *_: object) -> object:
            assert isinstance(wishes, Wishes)
            asked.append(wishes)
            other = replace(before, title="Harbour lights for a reader")
            return Adaptation(PlanIndex(before, PLAN), PlanIndex(other, PLAN), wishes)

        monkeypatch.setattr("workbench.publish.adaptation.adapt", adapted)
        await press(pilot, "a")
        await type_over(pilot, "sheet", "a4")
        await type_over(pilot, "count", "12")
        await press(pilot, "f4")
        await until(pilot, lambda: isinstance(app.screen, AdaptedScreen))
        assert asked[0].sheet == SHEETS["A4"]
        assert asked[0].count == 12
        app.screen.query_one("#take", Button).press()
        await until(pilot, lambda: opened(app).project != before)
        await press(pilot, "z")
        assert opened(app).project == before


async def test_the_makers_own_line_and_picture_are_asked_for(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        screen = await in_guide(pilot)
        plan = opened(app).plan
        await press(pilot, "i")
        assert isinstance(app.screen, ImprintForm)
        await type_over(pilot, "line", "Wren at the harbour, free to share")
        await type_over(pilot, "picture", "/tmp/card.bmp")
        await press(pilot, "f4")
        assert "put the picture in the project's folder" in shown(app, "#fault")
        await type_over(pilot, "picture", "")
        await press(pilot, "f4")
        await until(
            pilot,
            lambda: (
                screen._made is not None
                and screen._made.publication.recipe.foot == "Wren at the harbour, free to share"
            ),
        )
        assert opened(app).plan == plan
        await press(pilot, "z")
        assert opened(app).project.imprint == Imprint()


@pytest.mark.parametrize(
    ("path", "kind"), [(Path("guide.pdf"), ".pdf"), (Path("cards"), ""), (None, ".toml")]
)
def test_a_file_is_asked_for_by_the_kind_that_is_offered(path: Path | None, kind: str) -> None:
    assert PathQuestion("Write it to", path, "Write").kind == kind


async def test_signs_that_cannot_be_printed_are_told_beside_the_guide(tmp_path: Path) -> None:
    path = tmp_path / "tide.toml"
    write_project(path, replace(HARBOUR, title="潮 at the harbour"))
    async with running(path) as (app, pilot):
        await in_guide(pilot)
        assert "1 sign cannot be printed: 潮" in shown(app, "#choices")
