"""The rows of an integer program that make whatever is cut possible to deal to the cards.

Sets: uses (a piece and a paper it is cut from). Variables: of each use, the spares taken from it,
and where a card's copies are alike, the cards that have them. Constraints: as many spares as asked
for; what is dealt of alike copies is whole cards'; each cap; each count of a paper's use; the
kinds of card that the maker's rules allow (`card_types`). Source: Koenig, Math. Ann. 77 (1916).
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from workbench.planning.milp import INFINITY, Milp
from workbench.planning.mixing.card_types import CardTypes, CutColumns, Use


@dataclass(frozen=True, slots=True)
class DealtCap:
    """At most `limit` of the pieces of these `uses` may be dealt, all together.

    Copies that are alike on a card count as one.
    """

    uses: Sequence[Use]
    limit: int


@dataclass(frozen=True, slots=True)
class UseCount:
    """From `least` to `most` of the pieces of these `uses` shall be dealt, all together."""

    uses: frozenset[Use]
    least: int
    most: int | None = None


def merged_counts(counts: Sequence[UseCount], papers: Mapping[str, str]) -> tuple[UseCount, ...]:
    """The counts as if papers of one new name were one paper; what is asked of each adds up."""
    least: Counter[frozenset[Use]] = Counter()
    most: dict[frozenset[Use], int | None] = {}
    for count in counts:
        uses = frozenset((piece, papers[paper]) for piece, paper in count.uses)
        least[uses] += count.least
        before = most.get(uses, 0)
        most[uses] = None if before is None or count.most is None else before + count.most
    return tuple(UseCount(uses, least[uses], most[uses]) for uses in most)


@dataclass(frozen=True, slots=True)
class DealingRules:
    """What is asked of the pieces that are dealt, by the names of pieces and papers.

    `spare` copies of a piece go on no card; of `alike` ones a card has so many of one face. `caps`
    are Koenig's condition, `counts` what is asked of the papers, `card_types` the kinds of card
    that the maker's rules allow.
    """

    spare: Mapping[str, int]
    alike: Mapping[str, int]
    caps: Sequence[DealtCap]
    counts: Sequence[UseCount]
    card_types: Sequence[CardTypes]


def add_dealing_rows(program: Milp, cut: CutColumns, rules: DealingRules) -> None:
    """Add the rows to `program` that make whatever is `cut` possible to deal."""
    dealt = set_spares_aside(program, cut, rules.spare)
    on_cards = {use: _cards_of(program, use, terms, rules) for use, terms in dealt.items()}
    for cap in rules.caps:
        program.add_row(0, _together(on_cards, cap.uses), cap.limit)
    add_counts(program, dealt, rules.counts)
    for mixture in rules.card_types:
        mixture.bind(program, dealt, mixture.counting(program))


def add_counts(program: Milp, dealt: CutColumns, counts: Sequence[UseCount]) -> None:
    """Add the rows to `program` that hold what is `dealt` to the counts of the papers' use."""
    for count in counts:
        most = INFINITY if count.most is None else count.most
        program.add_row(count.least, _together(dealt, sorted(count.uses)), most)


def _cards_of(
    program: Milp, use: Use, dealt: Mapping[int, float], rules: DealingRules
) -> Mapping[int, float]:
    """How many cards have the pieces of a use, as terms."""
    alike = rules.alike.get(use[0], 1)
    if alike == 1:
        return dealt
    cards = program.add_column()
    program.add_row(0, {**dealt, cards: -float(alike)}, 0)
    return {cards: 1.0}


def _together(columns: CutColumns, uses: Sequence[Use]) -> dict[int, float]:
    terms: dict[int, float] = {}
    for use in uses:
        terms.update(columns.get(use, {}))
    return terms


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
