"""The same project gives the same plan, every time and in every process."""

import json
from dataclasses import replace

import pytest

from tests.samples import NAMES, plan_of, printed_plan, project_of
from workbench.planning.driver import make_plan
from workbench.planning.result import Plan
from workbench.store.plan_data import plan_from_data


def untimed(plan: Plan) -> Plan:
    return replace(plan, totals=replace(plan.totals, seconds=0))


def test_twice_the_same() -> None:
    asked = project_of("choir_invitations")
    assert untimed(make_plan(asked)) == untimed(plan_of("choir_invitations"))


@pytest.mark.parametrize("name", NAMES)
def test_the_same_whatever_the_hash_seed(name: str) -> None:
    """In another process, whose seed this one has not."""
    printed = plan_from_data(json.loads(printed_plan(name)))
    assert untimed(printed) == untimed(plan_of(name))
