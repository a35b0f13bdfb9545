"""The same project gives the same plan, every time and in every process."""

from dataclasses import replace

import pytest

from tests.samples import plan_of, project_of
from workbench.planning.driver import make_plan
from workbench.planning.result import Plan


def untimed(plan: Plan) -> Plan:
    return replace(plan, totals=replace(plan.totals, seconds=0))


def test_twice_the_same() -> None:
    one, other = (untimed(make_plan(project_of("one_card_from_scraps"))) for _ in range(2))
    assert one == other


@pytest.mark.parametrize("name", ["winter_fair_lanterns", "rainy_day_slimline"])
def test_the_same_whatever_the_hash_seed(name: str) -> None:
    """The plans of samples come from another process, whose seed this one has not."""
    assert untimed(make_plan(project_of(name))) == untimed(plan_of(name))
