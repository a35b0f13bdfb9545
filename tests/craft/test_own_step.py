"""Steps of the maker's own, as nouns."""

from dataclasses import replace

import pytest

from tests.making.plans import HARBOUR, inches, size
from workbench.app.edits import with_piece, without_piece
from workbench.craft.errors import CraftError
from workbench.craft.geometry import punched
from workbench.craft.own_step import Hole, Moment, OwnStep
from workbench.craft.resizing import in_size


def with_steps(*steps: OwnStep) -> object:
    return replace(HARBOUR, steps=steps)


def hole(x: str, y: str) -> Hole:
    return Hole(inches(x), inches(y), size("1/4", "1/4"))


@pytest.mark.parametrize(
    ("step", "told"),
    [
        (OwnStep("stamp", on="sail"), "neither card nor piece"),
        (OwnStep("punch", holes=(hole("0", "1"),)), "does not lie on"),
    ],
)
def test_what_does_not_fit_the_card_is_refused(step: OwnStep, told: str) -> None:
    with pytest.raises(CraftError, match=told):
        with_steps(step)


def test_names_are_their_own_and_holes_need_the_piece() -> None:
    with pytest.raises(CraftError, match="stands there twice"):
        with_steps(OwnStep("stamp"), OwnStep("stamp"))
    with pytest.raises(CraftError, match="nobody knows yet"):
        OwnStep("punch", when="before cutting", holes=(hole("1", "1"),))


def test_a_hole_lies_where_its_piece_lies() -> None:
    project = replace(HARBOUR, steps=(OwnStep("punch", "panel", holes=(hole("1/2", "1/2"),)),))
    ((name, extent),) = punched(project, inside=False)
    assert name == "panel"
    assert extent.left == inches("1/8") + inches("3/8")  # the panel's border, and 1/2 less 1/8


def test_steps_follow_their_piece() -> None:
    project = replace(HARBOUR, steps=(OwnStep("stamp", "tide"),))
    renamed = with_piece(project, replace(project.piece("tide"), name="ebb"), replacing="tide")
    assert renamed.steps[0].on == "ebb"
    assert without_piece(project, "tide").steps == ()


@pytest.mark.parametrize("when", ["after cutting", "last"])
def test_holes_follow_the_size_of_the_card(when: Moment) -> None:
    papers = tuple(replace(paper, size=size(12, 14)) for paper in HARBOUR.papers)
    step = OwnStep("punch", when=when, holes=(hole("1", "1"),))
    grown = in_size(replace(HARBOUR, papers=papers, steps=(step,)), size(5, 7))
    assert grown.steps[0].holes[0].x == inches("1") * size(5, 7).width.ratio(
        HARBOUR.card.size.width
    )
