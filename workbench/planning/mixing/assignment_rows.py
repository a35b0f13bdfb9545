"""The rows of an integer program that make whatever is cut possible to deal to the cards.

Spares are set aside first; no print is dealt more often than Koenig's condition allows; where the
maker set rules, the pieces must add up to cards of types that the rules allow.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from workbench.planning.milp import Milp
from workbench.planning.mixing.card_types import CardTypes, CutColumns, Use


@dataclass(frozen=True, slots=True)
class DealtCap:
    """At most `limit` of the pieces of these `uses` may be dealt, all together."""

    uses: Sequence[Use]
    limit: int


def add_dealing_rows(
    program: Milp,
    cut: CutColumns,
    spare: Mapping[str, int],
    caps: Sequence[DealtCap],
    mixtures: Sequence[CardTypes],
) -> None:
    """Add the rows to `program` that make whatever is `cut` possible to deal.

    `caps` are Koenig's condition; `mixtures`, kinds of card that the maker's rules allow; `spare`
    copies of a piece, by its name, go on no card.
    """
    dealt = set_spares_aside(program, cut, spare)
    for cap in caps:
        terms: dict[int, float] = {}
        for use in cap.uses:
            terms.update(dealt.get(use, {}))
        program.add_row(0, terms, cap.limit)
    for mixture in mixtures:
        mixture.bind(program, dealt, mixture.counting(program))


def set_spares_aside(program: Milp, cut: CutColumns, spare: Mapping[str, int]) -> CutColumns:
    """What is left to be dealt of what is `cut` once each piece's spares, of any paper, are taken.

    Gives terms: the columns that cut, less those that take spares.
    """
    dealt = {use: dict(terms) for use, terms in cut.items()}
    taken: dict[str, list[int]] = defaultdict(list)
    for (piece, _), terms in dealt.items():
        if spare.get(piece):
            column = program.add_column(high=spare[piece])
            program.add_row(0, {**terms, column: -1.0})
            terms[column] = -1.0
            taken[piece].append(column)
    for piece, columns in taken.items():
        program.add_row(spare[piece], dict.fromkeys(columns, 1.0), spare[piece])
    return dealt
