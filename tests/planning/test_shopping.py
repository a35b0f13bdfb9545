"""What is bought counts apart from what is on hand."""

from collections import Counter

import pytest

from tests.planning.parts import search_of, subproblem
from workbench.planning.shortage import bought, most_cards, out_of_stock, to_be_bought


def test_only_what_the_paper_on_hand_lacks_is_bought() -> None:
    group = subproblem((6, 8), {(3, 4): 9}, sheets=2)
    cutting = search_of(to_be_bought(group)).fewest()
    assert bought(cutting.layouts) == Counter({"sheet": 1})
    sources = {layout.source for layout in out_of_stock(group, cutting.layouts)}
    assert sources == {group.supplies[0].sheet}


@pytest.mark.parametrize("able", range(9))
def test_the_most_cards_are_found_by_halving(able: int) -> None:
    assert most_cards(9, lambda cards: cards <= able) == able
