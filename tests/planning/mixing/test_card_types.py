"""Card types and the rows that tie pieces to them, on two prints and two layers."""

from workbench.planning.milp import Milp
from workbench.planning.mixing.assignment_rows import (
    DealingRules,
    DealtCap,
    add_dealing_rows,
    set_spares_aside,
)
from workbench.planning.mixing.card_types import CardType, CardTypes
from workbench.planning.progress import Watch

PANEL_MOTH, PANEL_KITE = ("panel", "moth"), ("panel", "kite")
BAND_MOTH, BAND_KITE = ("band", "moth"), ("band", "kite")
CROSSED = (
    CardType(frozenset({(PANEL_MOTH, 1), (BAND_KITE, 1)}), frozenset({0})),
    CardType(frozenset({(PANEL_KITE, 1), (BAND_MOTH, 1)}), frozenset()),
)
TYPES = CardTypes(frozenset({"panel", "band"}), 5, 1, CROSSED)


def cut(
    program: Milp, counts: dict[tuple[str, str], int]
) -> dict[tuple[str, str], dict[int, float]]:
    return {use: {program.add_column(low=count, high=count): 1.0} for use, count in counts.items()}


def possible(counts: dict[tuple[str, str], int], types: CardTypes = TYPES) -> bool:
    program = Milp()
    add_dealing_rows(program, cut(program, counts), DealingRules({}, {}, (), (), (types,)))
    return program.solve(Watch()).found


def test_pieces_must_add_up_to_cards_of_the_types() -> None:
    assert possible({PANEL_MOTH: 3, BAND_KITE: 3, PANEL_KITE: 2, BAND_MOTH: 2})
    assert not possible({PANEL_MOTH: 3, BAND_KITE: 2, PANEL_KITE: 2, BAND_MOTH: 3})
    # The fixed card must be of the first type.
    assert not possible({PANEL_MOTH: 0, BAND_KITE: 0, PANEL_KITE: 5, BAND_MOTH: 5})


def test_papers_of_one_new_name_make_types_one() -> None:
    as_one = TYPES.renamed({"moth": "print", "kite": "print"})
    assert [dict(each.uses) for each in as_one.types] == [
        {("panel", "print"): 1, ("band", "print"): 1}
    ] * 2
    assert len(CardTypes(TYPES.pieces, 5, 0, (*CROSSED, CROSSED[1])).distinct().types) == 2


def test_a_cap_holds_all_its_uses_together() -> None:
    for limit, found in ((4, False), (5, True)):
        program = Milp()
        caps = (DealtCap((PANEL_MOTH, BAND_MOTH), limit),)
        rules = DealingRules({}, {}, caps, (), ())
        add_dealing_rows(program, cut(program, {PANEL_MOTH: 3, BAND_MOTH: 2}), rules)
        assert program.solve(Watch()).found == found


def test_spares_are_set_aside_before_anything_is_dealt() -> None:
    program = Milp()
    dealt = set_spares_aside(program, cut(program, {PANEL_MOTH: 4, PANEL_KITE: 3}), {"panel": 2})
    left = {column: value for terms in dealt.values() for column, value in terms.items()}
    program.set_objective(left)
    assert round(program.solve(Watch()).value) == 5
