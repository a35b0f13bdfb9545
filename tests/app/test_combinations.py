"""The Combinations: as many abreast as one likes, fixed, swapped, dealt again by rules."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.app.running import opened, press, running, said, settled, shown, type_over, until
from tests.making.plans import GULL, NET, PLAN
from workbench.app.app import TrimtallyApp
from workbench.app.screens.combinations import CardScreen
from workbench.app.screens.mix_forms import SwapForm
from workbench.app.widgets.card_grid import CardGrid
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.questions import Question
from workbench.craft.mixing import FixedCard

pytestmark = pytest.mark.usefixtures("planned")


@asynccontextmanager
async def mixing(path: Path) -> AsyncIterator[tuple[TrimtallyApp, Pilot[None]]]:
    """The two cards of the harbour, dealt: net under gull, and gull under net."""
    async with running(path) as (app, pilot):
        await press(pilot, "4")
        await app.workers.wait_for_complete()
        await settled(pilot)
        yield app, pilot


async def dealt(app: TrimtallyApp, pilot: Pilot[None]) -> None:
    await app.workers.wait_for_complete()
    await settled(pilot)


async def test_a_card_is_fixed_and_let_go(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        plan = opened(app).plan
        await press(pilot, "f")
        assert opened(app).project.mixing.cards == (FixedCard(1, {"panel": NET, "tide": GULL}),)
        assert opened(app).plan == plan
        assert "Card 1, fixed" in shown(app, "#card")
        await press(pilot, "f")
        assert not opened(app).project.mixing.cards


async def test_prints_that_may_not_meet_are_refused_where_every_card_needs_both(
    harbour: Path,
) -> None:
    async with mixing(harbour) as (app, pilot):
        before = opened(app)
        await press(pilot, "t")
        assert not shown(app, "#fault")  # it begins with what holds
        app.screen.query_one("#rule", Choice).action_next_choice()
        await settled(pilot)
        assert "never meet" in shown(app, "#fault")
        await press(pilot, "f4", "escape")
        assert opened(app) == before


async def test_prints_that_must_meet_are_a_rule_from_then_on(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        await press(pilot, "t")
        app.screen.query_one("#rule", Choice).chosen = 2
        await press(pilot, "f4")
        await dealt(app, pilot)
        assert opened(app).project.mixing.together == ((NET, GULL),)
        assert opened(app).plan


async def test_a_swap_that_breaks_a_rule_is_refused_and_the_rule_named(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        before = opened(app)
        await press(pilot, "x", "right")
        assert "no other card can swap a piece with it" in said(app)
        await press(pilot, "x")
        assert isinstance(app.screen, SwapForm)
        assert said(app) == ""  # or it would lie over what the form says
        assert "no card shows a print twice" in shown(app, "#fault")
        assert "possible with no other card" in shown(app, "#able")
        await type_over(pilot, "other", "9")
        assert "9 is not another card" in shown(app, "#fault")
        await press(pilot, "escape")
        assert opened(app) == before


async def test_a_swap_by_clicks_alone(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        grid = app.screen.query_one(CardGrid)
        await press(pilot, "x")
        assert grid.marked == 1
        await pilot.click(CardGrid, offset=(grid._cell.width + 3, 3))
        await settled(pilot)
        assert isinstance(app.screen, SwapForm)
        assert (app.screen.card.card, app.screen.other) == (2, 1)
        await press(pilot, "escape")
        assert grid.marked is None
        await press(pilot, "x", "x")
        assert grid.marked is None


async def test_a_click_goes_to_a_card_and_another_enlarges_it(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        grid = app.screen.query_one(CardGrid)
        there = (grid._cell.width + 3, 3)
        await pilot.click(CardGrid, offset=there)
        assert grid.at == 1
        await pilot.click(CardGrid, offset=there)
        await settled(pilot)
        assert isinstance(app.screen, CardScreen)


async def test_the_wish_for_a_set_is_kept_and_planned(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        await press(pilot, "a")
        app.screen.query_one("#wish", Choice).chosen = 1
        await press(pilot, "f4")
        await dealt(app, pilot)
        assert opened(app).project.mixing.wish == "as a set"
        assert opened(app).is_planned
        await press(pilot, "z")
        assert opened(app).project.mixing.wish == "varied"
        assert opened(app).plan


async def test_what_cards_lose_by_a_rule_is_said_before_it_is_kept(
    harbour: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with mixing(harbour) as (app, pilot):
        first, *_ = PLAN.combinations
        alike = tuple(replace(first, card=number) for number in (1, 2))
        less = replace(PLAN, combinations=alike)
        monkeypatch.setattr("workbench.planning.driver.make_plan", lambda *_: less)
        for answer, wish in (("leave", "varied"), ("keep", "as a set")):
            await press(pilot, "a")
            app.screen.query_one("#wish", Choice).chosen = 1
            await press(pilot, "f4")
            await dealt(app, pilot)
            assert isinstance(app.screen, Question)
            assert "of the cards only 1 will differ, not 2" in app.screen.question
            assert opened(app).project.mixing.wish == "varied"
            await pilot.click(f"#{answer}")
            await settled(pilot)
            assert opened(app).project.mixing.wish == wish
        assert opened(app).plan == less


async def test_which_prints_are_used_and_may_repeat_is_set_in_the_form(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        await press(pilot, "a")
        app.screen.query_one("#repeat", Choice).choose("on panel and tide too")
        app.screen.query_one("#use", Choice).choose("as counted below")
        await type_over(pilot, "count0", "2")
        await press(pilot, "f4")
        await dealt(app, pilot)
        mixed = opened(app).project.mixing
        assert (mixed.repeat, mixed.use) == ((("panel", "tide"),), {NET: 2})


async def test_dealing_again_is_new_and_can_be_taken_back(harbour: Path) -> None:
    """Two cards of two prints: another deal is the same cards in the other order."""
    async with mixing(harbour) as (app, pilot):
        before = opened(app)
        await press(pilot, "d")
        await dealt(app, pilot)
        after = opened(app)
        assert before.plan
        assert after.plan
        assert after.project.mixing.deal
        assert after.plan.combinations != before.plan.combinations
        await press(pilot, "z")
        assert opened(app).plan == before.plan


async def test_dealing_again_keeps_fixed_cards(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        await press(pilot, "f", "d")
        await dealt(app, pilot)
        plan = opened(app).plan
        assert plan
        assert plan.combinations[0].pieces == {"panel": NET, "tide": GULL}


async def test_fewer_abreast_are_larger(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        grid = app.screen.query_one(CardGrid)
        await press(pilot, "n")
        large = grid._picture
        await press(pilot, "m", "m")
        assert grid._picture.width < large.width
        assert grid._abreast > 1


async def test_contrast_and_counts_are_told(harbour: Path) -> None:
    async with mixing(harbour) as (app, pilot):
        assert ":1" in shown(app, "#card")
        assert f"2 × {NET}" in shown(app, "#prints")
        await press(pilot, "enter")
        assert "tide on panel" in shown(app, "#words")


async def test_cards_begin_as_large_as_the_page_allows(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "4")
        grid = app.screen.query_one(CardGrid)
        await until(pilot, lambda: bool(grid._cards))
        fits = [
            size
            for size in grid._sizes(opened(app).project.card.size)
            if len(grid._cards) * (size.width + 2) <= grid.size.width
        ]
        assert grid._picture == fits[0]
        assert grid._picture.height > 9
