"""Koenig's theorem: whatever keeps his condition can be dealt, no print twice on a card."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.planning.mixing.card_rules import NoPrintTwice, Slot
from workbench.planning.mixing.edge_colouring import colour_edges
from workbench.planning.mixing.sections import Section

PRINTS = ("moth", "kite", "reed", "fern")


@st.composite
def deals(draw: st.DrawFn) -> tuple[int, list[list[str]]]:
    """Cards drawn first, each with different prints, so that their pieces can surely be dealt."""
    cards, layers = draw(st.integers(1, 8)), draw(st.integers(1, 4))
    rows = [draw(st.permutations(PRINTS)) for _ in range(cards)]
    return cards, [row[:layers] for row in rows]


@settings(max_examples=examples(30), deadline=None)
@given(deals(), st.integers(0, 5))
def test_every_piece_is_dealt_and_no_card_shows_a_print_twice(
    case: tuple[int, list[list[str]]], seed: int
) -> None:
    cards, rows = case
    slots = tuple(
        Slot((f"layer {n}",), f"piece {n}", PRINTS, mixed=True) for n in range(len(rows[0]))
    )
    rule = NoPrintTwice(frozenset(PRINTS), frozenset())
    section = Section(slots, (rule,), (), frozenset())
    counts = {slot.piece: Counter(row[n] for row in rows) for n, slot in enumerate(slots)}
    given_counts: dict[str, Counter[str | None]] = {
        piece: Counter(count.elements()) for piece, count in counts.items()
    }
    dealt = colour_edges(section, given_counts, cards, seed)
    assert len(dealt) == cards
    assert all(len(set(card)) == len(card) for card in dealt)
    for n, slot in enumerate(slots):
        assert Counter(card[n] for card in dealt) == counts[slot.piece]
