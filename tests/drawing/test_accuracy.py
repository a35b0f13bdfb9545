"""What the report says of marks between lines, misfits and strips too narrow to hold."""

from dataclasses import replace
from fractions import Fraction

from tests.making.plans import HARBOUR, PLAN, inches
from tests.planning.analysis.test_rounding import thirds
from workbench.craft.trimmer import Trimmer
from workbench.drawing.accuracy import warnings
from workbench.making.plan_index import PlanIndex
from workbench.measure.writing import Graduation


def test_a_rule_that_shows_every_mark_needs_no_word() -> None:
    assert list(warnings(PlanIndex(HARBOUR, PLAN), Trimmer())) == []


def test_marks_between_the_lines_are_counted_and_shown() -> None:
    halves = {"in": Graduation("in", Fraction(1, 2)), "mm": Graduation("mm", Fraction(1))}
    trimmer = Trimmer(graduations=halves)  # type: ignore[arg-type]
    first, *_ = warnings(PlanIndex(HARBOUR, PLAN), trimmer)
    assert first == (
        "2 marks lie between the lines of the rule: ≈ 4 in (6.4 mm too long) and ≈ 5 in (6.4 mm "
        "too long)."
    )


def test_what_does_not_add_up_is_said() -> None:
    asked, plan = thirds()
    said = list(warnings(PlanIndex(replace(asked, units="in"), plan), Trimmer()))
    (sheet,) = (sheet.id for sheet in plan.sheets if sheet.paper == "A4")
    assert f"front comes out 1.2 mm too long in height on {sheet}" in said[1]
    assert "front sticks out over the card by 1.2 mm in height" in said[2]


def test_a_cut_with_nothing_to_hold_is_named() -> None:
    (said,) = warnings(PlanIndex(HARBOUR, PLAN), Trimmer(hold=inches("1 1/16")))
    assert said.startswith("1 cut leaves no part 1 1/16 in wide to hold (step 4)")
