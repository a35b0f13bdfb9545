"""Which of the papers that are ticked shall be used, and how much of each.

Sets: mixed pieces and their papers. Variables: how many of each piece are dealt of each paper; for
an even use, the least and the most of each piece over its papers. Constraints: every needed piece
is dealt, the cards can be made of it (`assignment_rows`). Objective: the differences between the
most and the least of each piece, all together.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.measure.counting import counted
from workbench.planning.milp import Milp, MilpResult
from workbench.planning.mixing.assignment_rows import (
    DealingRules,
    DealtCap,
    UseCount,
    add_dealing_rows,
)
from workbench.planning.mixing.card_types import CardTypes, Use
from workbench.planning.mixing.paper_limits import paper_limits
from workbench.planning.progress import PlanningError, Watch


def use_counts(
    project: Project, cards: int, card_types: Sequence[CardTypes]
) -> tuple[UseCount, ...]:
    """How many mixed pieces shall be of each paper, as the maker asks, for so many cards.

    Raises:
        PlanningError: no cards could be dealt so; says why and what would help.
    """
    use = project.mixing.use
    if use == "as it comes" or not any(map(project.mixed, project.pieces)):
        return ()
    if use == "evenly":
        return tuple(_evenly(project, cards, card_types))
    wanted = _all_used(project) if use == "all" else _as_counted(project)
    if not _Deals(project, cards, card_types, wanted).solved().found:
        raise PlanningError(_refusal(project, cards, card_types, wanted))
    return tuple(wanted)


def mixed_papers(project: Project) -> tuple[str, ...]:
    """The papers that mixed pieces may be cut from, as they are first named."""
    mixed = (piece for piece in project.pieces if project.mixed(piece))
    return tuple(dict.fromkeys(paper for piece in mixed for paper in piece.papers))


def _all_used(project: Project) -> list[UseCount]:
    return [UseCount(_uses_of(project, paper), 1) for paper in mixed_papers(project)]


def _as_counted(project: Project) -> list[UseCount]:
    counts = project.mixing.counts
    return [UseCount(_uses_of(project, paper), n, n) for paper, n in counts.items()]


def _uses_of(project: Project, paper: str) -> frozenset[Use]:
    mixed = (piece for piece in project.pieces if project.mixed(piece))
    return frozenset((piece.name, paper) for piece in mixed if paper in piece.papers)


def _refusal(
    project: Project, cards: int, card_types: Sequence[CardTypes], wanted: Sequence[UseCount]
) -> str:
    """Why these counts cannot be, and what would help."""
    alone = next(
        (one for one in wanted if not _Deals(project, cards, card_types, [one]).solved().found),
        None,
    )
    ways = "let prints be used as they come, or change the count of cards or the papers ticked"
    if alone is None:
        return f"the prints cannot be used all together as asked; {ways}"
    paper = next(iter(alone.uses))[1]
    if alone.most is None:
        return (
            f'"{paper}" cannot be used: no card can show it by the rules; leave it out, or {ways}'
        )
    return (
        f'there cannot be just {counted(alone.most, "piece")} of "{paper}" on'
        f" {counted(cards, 'card')}; {ways}"
    )


def _evenly(project: Project, cards: int, card_types: Sequence[CardTypes]) -> Iterator[UseCount]:
    """Each needed piece from its papers as equally as the rules let it."""
    deals = _Deals(project, cards, card_types, ())
    pieces = [piece for piece in project.pieces if project.mixed(piece) and piece.needed]
    spread: dict[int, float] = {}
    for piece in pieces:
        spread |= deals.add_spread(piece)
    deals.program.set_objective(spread)
    answer = deals.solved()
    if not answer.found:
        raise PlanningError("the prints cannot be used evenly; let them be used as they come")
    for piece in pieces:
        counts = [answer.whole(deals.columns[piece.name, paper]) for paper in piece.papers]
        for paper in piece.papers:
            yield UseCount(frozenset({(piece.name, paper)}), min(counts), max(counts))


@dataclass
class _Deals:
    """Every way to deal the mixed pieces, paper without end."""

    project: Project
    cards: int
    card_types: Sequence[CardTypes]
    counts: Sequence[UseCount]
    program: Milp = field(default_factory=Milp)
    columns: dict[Use, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        dealt = [piece for piece in self.project.pieces if self.project.mixed(piece)]
        for piece in dealt:
            copies = self.cards * piece.per_card
            mine = {(piece.name, paper): self.program.add_column() for paper in piece.papers}
            self.columns |= mine
            terms = dict.fromkeys(mine.values(), 1.0)
            self.program.add_row(copies if piece.needed else 0, terms, copies)
        names = {piece.name for piece in dealt}
        bound = [kinds for kinds in self.card_types if kinds.pieces <= names]
        rules = DealingRules({}, self._alike(dealt), self._caps(names), self.counts, bound)
        terms_of = {use: {column: 1.0} for use, column in self.columns.items()}
        add_dealing_rows(self.program, terms_of, rules)

    def _alike(self, dealt: Sequence[Piece]) -> Mapping[str, int]:
        return {piece.name: self.project.alike(piece) for piece in dealt}

    def _caps(self, names: set[str]) -> list[DealtCap]:
        return [
            DealtCap([(piece, paper.name) for piece in sorted(limit.pieces & names)], limit.most)
            for paper in self.project.papers
            for limit in paper_limits(self.project, paper, self.cards)
        ]

    def add_spread(self, piece: Piece) -> dict[int, float]:
        """Columns for the least and the most of a piece, with what these add to the cost."""
        least, most = self.program.add_column(), self.program.add_column()
        for paper in piece.papers:
            column = self.columns[piece.name, paper]
            self.program.add_row(0, {column: 1.0, least: -1.0})
            self.program.add_row(0, {most: 1.0, column: -1.0})
        return {most: 1.0, least: -1.0}

    def solved(self) -> MilpResult:
        return self.program.solve(Watch())
