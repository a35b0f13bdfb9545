"""How few sheets are possible where papers cannot stand for one another: whole sheets of each.

Sets: papers q with sources s (the whole sheet, offcuts), items i. Variables: n[i, q], how many of
an item are cut from a paper; x[q, s], how many of a source are cut up. Constraints: the demand;
what can be dealt to the cards (`assignment_rows`: what a paper may give, the kinds of card, the
papers' use); and for weights w of the items, sum of w[i] n[i, q] <= sum of V[s](w) x[q, s], where
V[s](w) is the most that one sheet can be worth, over every edge-to-edge cutting. Objective: the
fewest whole sheets, which as whole numbers are rounded up paper by paper.

The weights are found as they are missed: where a solution asks more of a paper than its sheets
give, the prices of that paper's own linear bound say so (Benders, Numerische Mathematik 4 (1962)).
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from workbench.planning.bound.column_generation import (
    LinearBound,
    Pattern,
    linear_bound,
    priced,
)
from workbench.planning.instance.instance import Subproblem, Supply
from workbench.planning.milp import Milp, MilpResult, rounded_up
from workbench.planning.progress import Watch


@dataclass(frozen=True, slots=True)
class LeastSheets:
    """`sheets`: fewer are impossible; None when the paper on hand cannot do at all.

    `because` says why in words, where it is not for the area alone. `shares` are what each paper
    might cut by itself to do with so few, where that was found.
    """

    sheets: int | None
    because: str | None = None
    shares: tuple[Subproblem, ...] = ()


def least_sheets(linear: LinearBound, watch: Watch) -> LeastSheets:
    """Better the linear bound of a subproblem by what its papers cannot do for one another.

    Raises:
        Cancelled: the watch stopped it.
    """
    group = linear.classes.group
    exact = all(pricer.exact for pricer in linear.pricers)
    if linear.sheets is None or len(group.supplies) == 1 or not exact:
        return LeastSheets(linear.sheets)
    return _PaperModel(linear, watch).bounded(linear.sheets)


@dataclass
class _PaperModel:
    linear: LinearBound
    watch: Watch
    program: Milp = field(default_factory=Milp)
    cut: dict[tuple[int, str], int] = field(default_factory=dict)
    taken: dict[tuple[str, int], int] = field(default_factory=dict)
    known: dict[tuple[int, ...], list[Pattern]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        # Kinds of card that were only sampled rule nothing out.
        group = self.linear.classes.group
        kinds = tuple(types for types in group.card_types if types.complete)
        self.group = replace(group, card_types=kinds)
        for stock in self.linear.classes.every:
            for supply in stock.supplies:
                source = supply.sources[stock.number]
                if source.available:
                    column = self.program.add_column(high=source.available)
                    self.taken[supply.paper, stock.number] = column
        self._add_demand()
        self._order_like_papers()
        self.program.set_objective(self._sheets())
        for number, stock in enumerate(self.linear.classes.every):
            if stock.number == 0:
                self._add_weights(number, self.linear.prices.worths(stock, self.linear.classes))

    def _add_demand(self) -> None:
        for supply in self.group.supplies:
            for index in self.group.eligible(supply):
                item = self.group.items[index]
                high = item.copies if self._sources(supply) else 0
                self.cut[item.id, supply.paper] = self.program.add_column(high=high)
        for item in self.group.items:
            terms = {column: 1.0 for (i, _), column in self.cut.items() if i == item.id}
            self.program.add_row(item.least, terms, item.copies)
        names = self.group.by_id
        uses = {(names[i].name, paper): {column: 1.0} for (i, paper), column in self.cut.items()}
        self.group.add_dealing_rows(self.program, uses)

    def _order_like_papers(self) -> None:
        """Of papers that nothing tells apart, the one with more sheets is cut at least as often."""
        if self.group.card_types or self.group.counts:
            return
        for stock in self.linear.classes.every:
            if all(len(supply.sources) == 1 for supply in stock.supplies):
                best = sorted(stock.supplies, key=lambda supply: -supply.sheet.available)
                columns = [self.taken[s.paper, 0] for s in best if (s.paper, 0) in self.taken]
                for more, less in pairwise(columns):
                    self.program.add_row(0, {more: 1.0, less: -1.0})

    def _sources(self, supply: Supply) -> dict[int, int]:
        """The columns of a paper's sources, by number."""
        return {n: column for (paper, n), column in self.taken.items() if paper == supply.paper}

    def _sheets(self) -> dict[int, float]:
        costs = {s.paper: [source.cost for source in s.sources] for s in self.group.supplies}
        return {column: float(costs[paper][n]) for (paper, n), column in self.taken.items()}

    def _add_weights(self, number: int, weights: Mapping[int, int]) -> None:
        """Hold the papers of a class of stock, by number, to what its sheets can be worth."""
        every = self.linear.classes.every
        supplies = every[number].supplies
        worth: dict[int, int] = {}
        for stock, pricer in zip(every, self.linear.pricers, strict=True):
            if stock.supplies == supplies:
                ceiling = pricer.ceiling(priced(stock, weights), self.watch)
                worth[stock.number] = math.ceil(ceiling)
        most = max(worth.values(), default=0)
        if not most:
            return
        for supply in supplies:
            terms = {
                self.cut[item, supply.paper]: -weight / most
                for item, weight in weights.items()
                if weight and (item, supply.paper) in self.cut
            }
            sources = self._sources(supply)
            terms |= {column: worth.get(n, 0) / most for n, column in sources.items()}
            self.program.add_row(0, terms)

    def bounded(self, sheets: int) -> LeastSheets:
        """Add weights until what is left asks nothing more of any paper than it can give."""
        best, linear = sheets, sheets
        for _ in range(self.watch.limits.paper_bound_rounds):
            self.watch.stage("finding how few sheets are possible")
            answer = self.program.solve(self.watch, self.watch.limits.paper_bound_effort)
            if answer.verdict == "infeasible":
                return LeastSheets(None)
            best = max(best, rounded_up(answer.bound))
            if not answer.found or round(answer.value) > best:
                break
            if not self._missed(answer):
                return LeastSheets(best, self._because(best, linear), tuple(self._shares(answer)))
        return LeastSheets(best, self._because(best, linear))

    def _missed(self, answer: MilpResult) -> bool:
        """Whether a paper was asked for more than its sheets give; then weights say so."""
        missed, met = False, set()
        for number, stock in enumerate(self.linear.classes.every):
            if stock.number:
                continue
            for supply in stock.supplies:
                share = self._share(supply, answer)
                asked = tuple(item.least for item in share.items)
                key = (number, tuple(item.id for item in share.items), asked)
                opened = self._opened(supply, answer)
                if not share.items or (key, opened) in met:
                    continue
                met.add((key, opened))
                # A paper that is used up has no stock of that number: its patterns are its own.
                there = tuple(int(source.available > 0) for source in supply.sources)
                ids = (number, *there, *(item.id for item in share.items))
                bound = linear_bound(share, self.watch, start=self.known.get(ids, ()))
                self.known[ids] = list(bound.patterns)
                if bound.sheets is None or bound.sheets > opened:
                    missed = True
                    worths = dict.fromkeys(self.group.by_id, 0)
                    worths |= bound.prices.worths(bound.classes.every[0], bound.classes)
                    self._add_weights(number, worths)
        return missed

    def _opened(self, supply: Supply, answer: MilpResult) -> int:
        column = self.taken.get((supply.paper, 0))
        return 0 if column is None else answer.whole(column)

    def _share(self, supply: Supply, answer: MilpResult) -> Subproblem:
        """What the answer cuts from one paper, as a subproblem of its own."""
        items = []
        for index in self.group.eligible(supply):
            item = self.group.items[index]
            count = answer.whole(self.cut[item.id, supply.paper])
            if count:
                alone = replace(item, least=count, copies=count, papers=(supply.paper,))
                items.append(replace(alone, dealt=False, spare=0, alike=1))
        free = replace(supply, limits=())
        return replace(self.group, items=tuple(items), supplies=(free,), card_types=(), counts=())

    def _shares(self, answer: MilpResult) -> Iterator[Subproblem]:
        if any(item.least < item.copies for item in self.group.items):
            return
        for supply in self.group.supplies:
            share = self._share(supply, answer)
            if share.items:
                yield share

    def _because(self, sheets: int, linear: int) -> str | None:
        """Why so many, in words, where the linear bound is lower."""
        if sheets <= linear:
            return None
        if self.group.counts:
            return "the prints are used as wished"
        if self.group.card_types:
            return "the cards keep your rules of mixing"
        shown = self._shown_a_card()
        if shown < 2:
            return "no sheet serves two papers"
        return f"each card shows {shown} prints" + (
            "" if sheets == shown else ", and no sheet gives two of them"
        )

    def _shown_a_card(self) -> int:
        """How many different prints each card shows, as far as copies and limits say."""
        limited = {
            piece for s in self.group.supplies for limit in s.limits for piece in limit.pieces
        }
        shown = sum(
            -(-(item.least - item.spare) // (item.alike * self.group.cards))
            for item in self.group.items
            if item.dealt and item.least and item.name in limited
        )
        return int(shown)
