"""A plan becomes data of the agreed shape, and comes back the same."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import PLAN
from tests.store.strategies import plans
from workbench.measure.length import UNITS, Unit
from workbench.planning.result import Plan
from workbench.store.errors import StoreError
from workbench.store.plan_data import plan_from_data, plan_to_data


@given(plans(), st.sampled_from(UNITS))
def test_a_plan_comes_back_the_same_through_json(plan: Plan, unit: Unit) -> None:
    data = json.loads(json.dumps(plan_to_data(plan, unit)))
    assert plan_from_data(data, plan.makeable) == plan


def test_the_data_have_the_agreed_keys_in_the_agreed_order() -> None:
    data = plan_to_data(PLAN, "in")
    assert list(data) == [
        "format",
        "title",
        "cards",
        "totals",
        "pace",
        "groups",
        "shortages",
        "sheets",
        "steps",
        "combinations",
    ]
    assert list(data["totals"]) == [
        "sheets",
        "fewest_possible",
        "proven",
        "cuts",
        "marks",
        "seconds",
        "fewest_marks",
        "fewest_settings",
        "settings",
        "laid",
        "turns",
        "table_seconds",
        "least_table_seconds",
        "different",
        "most_different",
    ]
    assert list(data["groups"][0]) == [
        "papers",
        "sheets",
        "fewest_possible",
        "because",
        "proven",
    ]
    assert data["sheets"][0]["parts"][0] == {
        "id": "S1.1.1",
        "role": "piece",
        "piece": "panel",
        "x": "0 in",
        "y": "0 in",
        "width": "15/4 in",
        "height": "19/4 in",
        "turned": False,
    }
    assert list(data["sheets"][0]) == ["id", "paper", "width", "height", "offcut", "parts"]
    assert data["combinations"][1] == {
        "card": 2,
        "pieces": {"panel": "gull dot", "tide": "net weave"},
    }


def test_every_step_has_the_same_keys_and_only_assembly_names_a_card() -> None:
    steps = plan_to_data(PLAN, "mm")["steps"]
    keys = ["n", "do", "takes", "measure", "mark", "gives"]
    assert [list(step) for step in steps] == [keys] * 10 + [[*keys, "card"]] * 2
    assert steps[0]["mark"] == "2413/20 mm"
    assert steps[0]["gives"] == (("S1.1", "S1.2"), ("S2.1", "S2.2"))
    assert (steps[8]["measure"], steps[8]["mark"], steps[8]["gives"]) == (None, None, ())


def _without(key: str) -> Callable[[dict[str, Any]], object]:
    return lambda data: data.pop(key)


DAMAGE: dict[str, Callable[[dict[str, Any]], object]] = {
    "no sheets": _without("sheets"),
    "another format": lambda data: data.update(format=2),
    "a length that is none": lambda data: data["sheets"][0].update(width="six"),
    "a missing mark": lambda data: data["steps"][0].pop("mark"),
    "an unknown part": lambda data: data["steps"][0].update(takes=["S9", "S2"]),
    "an odd pair": lambda data: data["steps"][0].update(takes=["S1"]),
    "a missing step": lambda data: data["steps"].pop(8),
    "an unknown doing": lambda data: data["steps"][0].update(do="burn"),
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_plan_is_refused_clearly(damage: Callable[[dict[str, Any]], object]) -> None:
    data = json.loads(json.dumps(plan_to_data(PLAN, "in")))
    damage(data)
    with pytest.raises(StoreError, match="the plan: it is damaged"):
        plan_from_data(data)


@pytest.mark.parametrize("data", [None, [], "plan", {}, {"format": "1"}])
def test_what_is_no_plan_is_refused(data: Any) -> None:
    with pytest.raises(StoreError):
        plan_from_data(data)
