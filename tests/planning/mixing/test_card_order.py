"""The order of the cards: like ones are kept apart as far as their numbers allow."""

from collections import Counter
from itertools import pairwise, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.mixing.card_order import spread
from workbench.planning.mixing.card_rules import Faces

CARDS = st.tuples(*[st.sampled_from(("ash", "birch", "cedar", None))] * 3)
KINDS = st.dictionaries(CARDS, st.integers(1, 5), min_size=1, max_size=6)


def likeness(order: list[Faces]) -> list[int]:
    """In how many layers each card is like the one before, the worst first."""
    alike = [sum(a == b for a, b in zip(*pair, strict=True)) for pair in pairwise(order)]
    return sorted(alike, reverse=True)


@settings(max_examples=examples(60), deadline=None)
@given(KINDS)
def test_no_card_lies_beside_its_like_unless_one_kind_is_more_than_half(
    kinds: dict[Faces, int],
) -> None:
    total = sum(kinds.values())
    order = spread(kinds, {}, total)
    assert Counter(order) == kinds
    side_by_side = sum(one == other for one, other in pairwise(order))
    assert side_by_side == max(0, 2 * max(kinds.values()) - total - 1)


@settings(max_examples=examples(40), deadline=None)
@given(KINDS, st.dictionaries(st.integers(0, 20), CARDS, max_size=4))
def test_fixed_cards_keep_their_places(kinds: dict[Faces, int], held: dict[int, Faces]) -> None:
    total = sum(kinds.values())
    held = {place: card for place, card in held.items() if place < total + len(held)}
    while any(place >= total + len(held) for place in held):
        held = {place: card for place, card in held.items() if place < total + len(held)}
    order = spread(kinds, held, total + len(held))
    assert all(order[place] == card for place, card in held.items())
    assert Counter(order) == Counter(kinds) + Counter(held.values())
    assert order == spread(kinds, held, total + len(held))


@settings(max_examples=examples(12), deadline=None)
@given(st.lists(CARDS, min_size=2, max_size=6))
def test_few_cards_lie_nearly_as_far_apart_as_any_order_could_put_them(cards: list[Faces]) -> None:
    """The worst pair of neighbours is no worse than in the best order of all."""
    order = spread(Counter(cards), {}, len(cards))
    best = min(likeness(list(one)) for one in permutations(cards))
    assert likeness(order)[0] == best[0] or sum(likeness(order)) <= sum(best) + 1


def test_thousands_of_cards_are_spread() -> None:
    prints = [f"print {number}" for number in range(12)]
    kinds: dict[Faces, int] = {
        (one, other, third): 3
        for one in prints
        for other in prints
        for third in prints
        if len({one, other, third}) == 3
    }
    order = spread(kinds, {}, sum(kinds.values()))
    assert Counter(order) == kinds
    assert sum(likeness(order)) <= len(order) // 50
