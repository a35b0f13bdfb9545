"""What lets the pieces that are cut be dealt to the cards: spares set aside, and limits."""

from collections import defaultdict
from collections.abc import Mapping

from workbench.planning.instance.instance import Group
from workbench.planning.milp import Program
from workbench.planning.mixing.card_types import Cut


def hold_to_the_cards(group: Group, program: Program, cut: Cut) -> None:
    """Add the rows to `program` that make whatever is `cut` possible to deal.

    Koenig's condition; and, where the maker set rules, kinds of card that the rules allow.
    """
    dealt = set_aside(program, cut, {item.name: item.spare for item in group.items if item.dealt})
    for supply in group.supplies:
        for limited in group.limited(supply):
            terms: dict[int, float] = {}
            for index in limited:
                terms.update(dealt.get((group.items[index].name, supply.paper), {}))
            program.row(0, terms, supply.dealt_limit or 0)
    for mixture in group.mixtures:
        mixture.bind(program, dealt, mixture.counting(program))


def set_aside(program: Program, cut: Cut, spare: Mapping[str, int]) -> Cut:
    """What is left to be dealt of what is `cut` once each piece's spares, of any paper, are taken.

    Gives terms: the columns that cut, less those that take spares.
    """
    dealt = {use: dict(terms) for use, terms in cut.items()}
    taken: dict[str, list[int]] = defaultdict(list)
    for (piece, _), terms in dealt.items():
        if spare.get(piece):
            column = program.column(high=spare[piece])
            program.row(0, {**terms, column: -1.0})
            terms[column] = -1.0
            taken[piece].append(column)
    for piece, columns in taken.items():
        program.row(spare[piece], dict.fromkeys(columns, 1.0), spare[piece])
    return dealt
