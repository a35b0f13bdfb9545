"""A trimmer is careful by default, and refuses what no trimmer is."""

from fractions import Fraction

import pytest

from tests.craft.projects import Refusal, check_refused, mm
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length

REFUSED: dict[str, Refusal] = {
    "a trimmer that cuts nothing": (
        lambda: Trimmer(cut_length=mm(0)),
        "trimmer, longest cut",
        "nothing",
    ),
    "a rule of no length": (lambda: Trimmer(rule_length=mm(0)), "trimmer, rule", "nothing"),
    "a strip less than nothing": (
        lambda: Trimmer(hold=mm(-1)),
        "trimmer, narrowest strip",
        "less",
    ),
    "no sheet at once": (
        lambda: Trimmer(at_once={"patterned": 0}),
        "trimmer, patterned at once",
        "0 sheets",
    ),
}


@pytest.mark.parametrize("refusal", REFUSED.values(), ids=REFUSED)
def test_refused_with_place_and_reason(refusal: Refusal) -> None:
    check_refused(refusal)


def test_the_trimmer_is_careful_by_default() -> None:
    trimmer = Trimmer()
    assert trimmer.at_once == {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1}
    assert trimmer.cut_length >= Length.of(12, "in")
    # Sixteenths: federal item description A-A-355B; whole millimetres: common practice, no source.
    assert trimmer.graduations["in"].interval == Length.of(Fraction(1, 16), "in")
    assert trimmer.graduations["mm"].interval == mm(1)
