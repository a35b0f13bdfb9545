"""A short share of the attacks, counted and not timed, so that each run tries the same."""

import pytest

from tests.attack.attack import carried_out
from tests.attack.attacks import ATTACKS

# Kills in all: ten.
TRIALS = {
    "files": 150,
    "names": 2,
    "bench": 1,
    "save": 4,
    "migration": 2,
    "drawer": 3,
    "drops": 1,
    "windows": 2,
    "disk": 2,
    "clock": 2,
    "databases": 4,
}


@pytest.mark.parametrize("name", ATTACKS)
def test_a_share_of_the_attacks_does_no_harm(name: str) -> None:
    outcome = carried_out(ATTACKS[name], seed=1, most=TRIALS[name])
    assert outcome.tried == TRIALS[name]
    assert outcome.harmed == {}
