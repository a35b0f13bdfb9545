"""Changing the unit of a card: on the marks, on its card and sheets, and back again."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.publish.guides import NAMES, project_of
from workbench.craft.conversion import in_unit, marked
from workbench.craft.geometry import bearer_extent, placements
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import ZERO, Length, Unit

# Half a sixteenth of an inch (the graduation of a US office rule, A-A-355B), 25.4 / 32 mm.
HALF = Length.of(Fraction(1, 32), "in")
OTHER: dict[Unit, Unit] = {"in": "mm", "mm": "in"}


def sides(project: Project) -> list[Length]:
    sizes = [project.card.size, *(piece.size for piece in project.pieces)]
    return [side for size in sizes for side in (size.width, size.height)]


@given(st.integers(1, 10_000))
def test_millimetres_come_back_as_they_were(number: int) -> None:
    length = Length.of(number, "mm")
    assert marked(marked(length, "in"), "mm") == length


@given(st.integers(1, 10_000))
def test_sixteenths_come_back_within_half_a_graduation(number: int) -> None:
    length = Length.of(Fraction(number, 16), "in")
    assert abs(marked(marked(length, "mm"), "in") - length) <= HALF


@pytest.mark.parametrize("down", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_there_and_back_is_within_half_a_graduation(name: str, down: bool) -> None:
    project = project_of(name)
    there = in_unit(project, OTHER[project.units], down=down and project.units == "in")
    back = in_unit(there, project.units)
    for was, now in zip(sides(project), sides(back), strict=True):
        assert abs(was - now) <= HALF


@pytest.mark.parametrize("name", NAMES)
def test_sizes_fall_on_the_other_rule_and_still_fit(name: str) -> None:
    project = project_of(name)
    unit = OTHER[project.units]
    there = in_unit(project, unit)
    finest = Length.of(1, "mm") if unit == "mm" else HALF
    assert all(side.ratio(finest).denominator == 1 for side in sides(there))
    assert there.units == unit
    assert there.papers == project.papers
    for before, after in zip(placements(project), placements(there), strict=True):
        old = bearer_extent(project, before.piece.name).borders(before.extent)
        new = bearer_extent(there, after.piece.name).borders(after.extent)
        assert old.least < ZERO or new.least >= ZERO


def test_holes_stay_on_what_they_are_punched_in() -> None:
    project = project_of("choir_invitations")
    quarter = Size(Length.of("1/4", "in"), Length.of("1/4", "in"))
    edge = Length.of("1/8", "in")
    step = OwnStep("punch", "words", holes=(Hole(edge, Length.of("1/2", "in"), quarter),))
    punched = in_unit(replace(project, steps=(step,)), "mm").steps[0].holes[0]
    assert punched.size == quarter
    assert punched.x >= quarter.width / 2
    # 13 mm would be over the edge of words that are 16 mm high now.
    assert punched.y == Length.of(16, "mm") - quarter.height / 2
