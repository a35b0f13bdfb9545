"""Pieces cut at the nearest marks: worked out by hand from a rule of sixteenths, 1.5875 mm."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.projects import ONE_BY_ONE, plain, size
from workbench.craft.card import Card, Piece
from workbench.craft.direction import Direction
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.measure.writing import ONE_MM, SIXTEENTHS, Graduation, nearest_mark
from workbench.planning.analysis.rounding import (
    Misfit,
    Overhang,
    misfits,
    off_graduation,
    overhangs,
    rounded_sizes,
)
from workbench.planning.driver import make_plan
from workbench.planning.result import Plan


def mm(number: int | Fraction) -> Length:
    return Length.of(number, "mm")


def thirds() -> tuple[Project, Plan]:
    """Three fronts' worth of an A4 sheet (ISO 216: 210 x 297 mm), 99 mm each, on ready cards."""
    asked = Project(
        title="Thirds",
        units="mm",
        card=Card(size(210, 99, "mm"), "none", "ready card", 3),
        papers=(plain("ready card", size(210, 99, "mm"), 3), plain("A4", size(210, 297, "mm"), 1)),
        pieces=(Piece("front", size(210, 99, "mm"), ("A4",)),),
    )
    return asked, make_plan(asked, ONE_BY_ONE)


def test_99_mm_is_on_a_rule_of_millimetres_only() -> None:
    _, plan = thirds()
    assert off_graduation(plan, ONE_MM) == ()
    assert off_graduation(plan, SIXTEENTHS) == (mm(99),)


def test_nothing_is_amiss_where_every_mark_is_on_the_rule() -> None:
    asked, plan = thirds()
    assert misfits(plan, ONE_MM) == ()
    assert overhangs(asked, plan, ONE_MM) == ()


def test_the_last_third_takes_on_what_the_others_lost() -> None:
    """99 mm is 62.4 sixteenths: cut at 3 7/8 in = 98.425 mm twice, 297 leaves 100.15 mm."""
    asked, plan = thirds()
    last = mm(297) - 2 * Length.of(Fraction(31, 8), "in")
    assert last == mm(Fraction(10015, 100))
    (sheet,) = (sheet.id for sheet in plan.sheets if sheet.paper == "A4")
    assert misfits(plan, SIXTEENTHS) == (Misfit("front", Direction.HEIGHT, mm(99), last, (sheet,)),)
    over = last - mm(99)
    assert overhangs(asked, plan, SIXTEENTHS) == (
        Overhang("front", "card", Direction.HEIGHT, over),
    )


SIDES = st.integers(20, 60)


@settings(max_examples=examples(12), deadline=None)
@given(SIDES, SIDES, st.sampled_from([Graduation("mm", Fraction(10)), SIXTEENTHS, ONE_MM]))
def test_a_measured_piece_is_off_by_half_a_graduation_at_most(
    width: int, height: int, graduation: Graduation
) -> None:
    """And the parts of a sheet still add up to the sheet, whatever the marks."""
    asked = Project(
        title="Any",
        units="mm",
        card=Card(size(100, 100, "mm"), "none", "ready card", 2),
        papers=(
            plain("ready card", size(100, 100, "mm"), 2),
            plain("sheet", size(150, 130, "mm"), 2),
        ),
        pieces=(Piece("piece", size(width, height, "mm"), ("sheet",)),),
    )
    plan = make_plan(asked, ONE_BY_ONE)
    sizes = rounded_sizes(plan, graduation)
    for sheet in plan.sheets:
        cut = [sizes[sheet.part_id(part)] for part in sheet.parts]
        areas = [each.width.mm * each.height.mm for each in cut]
        assert sum(areas) == sheet.width.mm * sheet.height.mm
    for step in plan.cuts:
        reading = nearest_mark(step.mark, graduation)
        sides = {sizes[first].along(step.measure) for first, _ in step.gives}
        assert sides == {reading.mark}
        assert abs(reading.off) * 2 <= graduation.interval
