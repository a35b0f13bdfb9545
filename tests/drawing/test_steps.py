"""Every kind of step has a picture of its own, within its room."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from tests.making.plans import DEALT, HARBOUR
from workbench.craft.extra import Extra
from workbench.craft.own_step import OwnStep
from workbench.drawing.steps import draw_step
from workbench.making.plan_index import PlanIndex
from workbench.planning.result import Cut, Fold, Round, Step

INDEX = PlanIndex(HARBOUR, DEALT)


def kinds() -> Iterator[Step]:
    """The first step of each kind in the batch."""
    yield from {type(step): step for step in reversed(DEALT.steps)}.values()


@pytest.mark.parametrize("room", [(60, 20), (20, 8), (6, 3)])
@pytest.mark.parametrize("step", kinds(), ids=lambda step: type(step).__name__)
def test_it_keeps_within_its_room_and_shows_something(step: Step, room: tuple[int, int]) -> None:
    canvas = draw_step(INDEX, step, "in", *room)
    assert canvas.width <= room[0]
    assert canvas.height <= room[1]
    assert any(canvas.lines())


def test_a_card_is_folded_before_own_steps_and_parts_are_on_it() -> None:
    """The step of folding had no picture where the maker stamps a piece, and ended the program."""
    own = OwnStep("stamp the words", "panel")
    gem = Extra("gem", "1 g", on="panel")
    project = replace(HARBOUR, steps=(own,), extras=(gem,))
    fold = next(step for step in DEALT.steps if isinstance(step, Fold))
    plain = draw_step(INDEX, fold, "in", 60, 20).lines()
    assert draw_step(PlanIndex(project, DEALT), fold, "in", 60, 20).lines() == plain


def test_what_was_cut_off_before_is_gone() -> None:
    first, *_, last = (step for step in DEALT.steps if isinstance(step, Cut) and _on(step, "S1"))
    before, after = (
        "\n".join(draw_step(INDEX, step, "in", 60, 20).lines()) for step in (first, last)
    )
    assert "panel" in before
    assert "panel" not in after


def test_a_corner_that_is_rounded_lacks_in_the_outline_along_the_edge() -> None:
    step = next(step for step in DEALT.steps if isinstance(step, Round))
    top, *_, bottom = draw_step(INDEX, step, "in", 60, 20).lines()
    assert (top[:2], top[-2:], bottom[:2], bottom[-2:]) == ("▏▔", "▔▙", "▏▁", "▁▛")


def _on(step: Cut, sheet: str) -> bool:
    return step.takes[0].sheet == sheet
