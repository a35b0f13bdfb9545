"""Steps of the maker's own in the plan: each at its moment, of each part once."""

from dataclasses import replace

from tests.making.plans import HARBOUR, PLAN
from workbench.craft.own_step import OwnStep
from workbench.planning import Assemble, Cut, Fold, Own, Round, opening_steps
from workbench.planning.finishing import with_own_steps

STEPS = (
    OwnStep("ink the edges", "panel", "after cutting"),
    OwnStep("stamp", "card", "after scoring"),
    OwnStep("emboss", "tide", "before mounting"),
    OwnStep("add a ribbon", "card", "last"),
    OwnStep("spray", "panel", "before cutting"),
)
PROJECT = replace(HARBOUR, steps=STEPS)


def test_each_step_stands_at_its_moment_and_the_numbers_run_on() -> None:
    steps = with_own_steps(PROJECT, PLAN.sheets, PLAN.cuts, PLAN.combinations)
    assert [step.n for step in steps] == list(range(1, len(steps) + 1))
    kinds = [step.name if isinstance(step, Own) else type(step) for step in steps]
    assert kinds[0] == "spray"
    last_cut = max(at for at, kind in enumerate(kinds) if kind is Cut)
    assert kinds[last_cut + 1] == "ink the edges"
    assert kinds.index("stamp") > kinds.index(Fold)
    assert kinds.index("emboss") < kinds.index(Assemble)
    assert kinds[-1] == "add a ribbon"
    if Round in kinds:
        assert kinds.index("stamp") > kinds.index(Round)


def test_every_part_is_taken_once_and_sheets_whole() -> None:
    steps = with_own_steps(PROJECT, PLAN.sheets, PLAN.cuts, PLAN.combinations)
    own = {step.name: step.takes for step in steps if isinstance(step, Own)}
    panels = [s.part_id(p) for s in PLAN.sheets for p in s.parts if p.piece == "panel"]
    assert sorted(own["ink the edges"]) == sorted(panels)
    assert len(own["add a ribbon"]) == PLAN.cards
    assert all(not part.path for part in own["spray"])
    assert opening_steps(HARBOUR, PLAN.sheets) == []
