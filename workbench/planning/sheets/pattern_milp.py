"""Sharing known patterns among papers, each piece beyond what is wanted left uncut.

Sets: J, the papers; S_j, the sources of paper j; P, the known patterns, P_js those of the size of
s that serve only pieces of j; I, the items. Parameters: a_ip, the copies of i in p; k_p, the cuts.
Variables, whole: x_jsp, how often s is cut into p; q_ji, the copies of i kept from paper j.

    minimise    sum of c_s x_jsp, and then, within so many sheets, sum of k_p x_jsp
                less a large reward for each wanted piece kept
    subject to  sum over p of x_jsp <= sheets of s on hand            for each j, s
                q_ji <= sum over s, p of a_ip x_jsp                   for each j, i
                least_i <= sum over j of q_ji <= copies_i             for each i
                and the rows that let all of it be dealt (`mixing.assignment_rows`)

It is the pattern model of Gilmore and Gomory (Operations Research 9 (1961)) over a given pool.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.planning.instance.instance import Subproblem, Supply
from workbench.planning.kernel_search import kernel_search
from workbench.planning.layouts.tree import Chain, Leaf, Node, cuts_of, leaves
from workbench.planning.layouts.trimmer import makes
from workbench.planning.limits import Effort
from workbench.planning.milp import INFINITY, NEARLY, Milp, MilpResult
from workbench.planning.progress import Watch
from workbench.planning.shape import joined

_WANTED = 1000.0


@dataclass(frozen=True, slots=True)
class SheetCount:
    """`times` sheets of `paper` (or offcuts, by their source's number), and what each one gives.

    `pieces` counts that by item id. `root` is a layout that gives these pieces, what is not kept
    being left over.
    """

    paper: str
    source: int
    pieces: Mapping[int, int]
    root: Node
    times: int


@dataclass(frozen=True, slots=True)
class Sharing:
    """The best sharing found, sheets alike as one entry (none if nothing was found).

    `opened` whole sheets are among them; with this pool fewer than `fewest` are impossible.
    """

    sheets: list[SheetCount]
    opened: float
    fewest: float

    def within(self, sheets: int) -> bool:
        """Whether it opens no more than so many sheets; never where nothing was found."""
        return self.opened <= sheets


NOTHING = Sharing([], INFINITY, 0)


def share_patterns(
    group: Subproblem, pool: Sequence[Node], sheets: int, watch: Watch, effort: Effort
) -> Sharing:
    """Which of the pool's layouts each paper is cut into, how often, and what is kept of each.

    Each of the pool's layouts may be used on every paper of the same size that serves all its
    pieces. The fewest whole sheets; where those are no more than `sheets`, the fewest cuts.
    """
    return _PatternMilp(group, pool).solved(sheets, watch, effort)


def taken(group: Subproblem, takes: Mapping[tuple[Supply, int, Node], int]) -> Sharing:
    """Layouts cut so often from the sources (by number) of papers, less what is not asked for."""
    left = {item.id: item.copies for item in group.items}
    sheets = [
        sheet
        for (supply, number, root), times in takes.items()
        for sheet in _kept(supply, number, root, times, left)
    ]
    costs = {supply.paper: [source.cost for source in supply.sources] for supply in group.supplies}
    return Sharing(sheets, sum(costs[s.paper][s.source] * s.times for s in sheets), 0)


@dataclass
class _PatternMilp:
    group: Subproblem
    pool: Sequence[Node]

    def __post_init__(self) -> None:
        self.program = Milp()
        self.uses: dict[tuple[Supply, int, int], int] = {}
        self.kept: dict[tuple[Supply, int], int] = {}
        self.roots = list(dict.fromkeys(self.pool))
        self.counts = [pieces_of(root) for root in self.roots]
        for supply in self.group.supplies:
            self._add(supply)
        kept = {
            (self.group.items[index].name, supply.paper): {column: 1.0}
            for (supply, index), column in self.kept.items()
        }
        self.group.add_dealing_rows(self.program, kept)

    def _add(self, supply: Supply) -> None:
        given: dict[int, dict[int, float]] = {i: {} for i in self.group.eligible(supply)}
        for number, source in enumerate(supply.sources):
            taken = {}
            for which, root in enumerate(self.roots):
                if not self._usable(supply, number, root):
                    continue
                column = self.program.add_column(high=source.available)
                self.uses[supply, number, which] = column
                taken[column] = 1.0
                for index, terms in given.items():
                    terms[column] = self.counts[which][self.group.items[index].id]
            self.program.add_row(0, taken, source.available)
        for index, terms in given.items():
            column = self.kept[supply, index] = self.program.add_column()
            self.program.add_row(0, {**terms, column: -1.0})

    def _usable(self, supply: Supply, number: int, root: Node) -> bool:
        source = supply.sources[number]
        served = self.group.id_set(supply)
        fits = (root.width, root.height) == (source.width, source.height)
        return (
            fits
            and makes(self.group.trimmer, root)
            and all(
                leaf.item in served and (supply.turns or not leaf.turned)
                for leaf in leaves(root)
                if leaf.item is not None
            )
        )

    def solved(self, sheets: int, watch: Watch, effort: Effort) -> Sharing:
        self._ask()
        opened = {
            column: supply.sources[number].cost for (supply, number, _), column in self.uses.items()
        }
        self.program.set_objective(opened)
        fewest = self.program.solve(watch, effort)
        if not fewest.found:
            return Sharing([], INFINITY, self._least(fewest))
        if round(fewest.value) > sheets:
            return Sharing(self._sheets(fewest), round(fewest.value), self._least(fewest))
        self.program.add_row(0, opened, sheets)
        self.program.set_objective(self._cuts())
        further = replace(effort, gap=watch.limits.sharing_cuts_gap)
        if len(self.uses) > watch.limits.shared_columns:
            answer = kernel_search(
                self.program,
                self.uses.values(),
                watch,
                further,
                watch.limits.kernel_buckets,
                start=fewest,
            )
        else:
            answer = self.program.solve(watch, further)
        return Sharing(self._sheets(answer if answer.found else fewest), sheets, 0)

    def _least(self, answer: MilpResult) -> float:
        """The answer's bound, where every kind of card that the rules allow was listed."""
        complete = all(mixture.complete for mixture in self.group.card_types)
        return answer.bound - NEARLY if complete else 0

    def _ask(self) -> None:
        for index, item in enumerate(self.group.items):
            kept = {column: 1.0 for (_, i), column in self.kept.items() if i == index}
            self.program.add_row(item.least, kept, item.copies)

    def _cuts(self) -> dict[int, float]:
        """The cuts of every layout, and what outweighs them: a wanted piece kept."""
        costs: dict[int, float] = {
            column: cuts_of(self.roots[which]) for (_, _, which), column in self.uses.items()
        }
        for (_, index), column in self.kept.items():
            if self.group.items[index].least < self.group.items[index].copies:
                costs[column] = -_WANTED
        return costs

    def _sheets(self, answer: MilpResult) -> list[SheetCount]:
        found: list[SheetCount] = []
        for supply in self.group.supplies:
            left = {
                self.group.items[index].id: answer.whole(column)
                for (owner, index), column in self.kept.items()
                if owner == supply
            }
            for (owner, number, which), column in self.uses.items():
                if owner == supply and (times := answer.whole(column)):
                    found += _kept(supply, number, self.roots[which], times, left)
        return found


def _kept(
    supply: Supply, number: int, root: Node, times: int, left: dict[int, int]
) -> Iterator[SheetCount]:
    gives = pieces_of(root)
    while times and any(left[item] for item in gives):
        pieces = {item: min(count, left[item]) for item, count in gives.items() if left[item]}
        alike = min(times, *(left[item] // count for item, count in pieces.items()))
        for item, count in pieces.items():
            left[item] -= count * alike
        times -= alike
        yield SheetCount(supply.paper, number, pieces, keeping(root, Counter(pieces)), alike)


def keeping(root: Node, kept: Counter[int]) -> Node:
    """`root` with only the `kept` pieces; what holds none of them is not cut. Uses up `kept`."""
    if isinstance(root, Leaf):
        if root.item is not None and kept[root.item]:
            kept[root.item] -= 1
            return root
        return Leaf(root.width, root.height)
    cuts = [(mark, keeping(first, kept)) for mark, first in root.cuts]
    rest = keeping(root.rest, kept)
    while cuts and _left_over(rest) and _left_over(cuts[-1][1]):
        rest = Leaf(*joined(cuts.pop()[1].shape, rest.shape, root.direction))
    if not cuts:
        return rest
    return Chain(root.width, root.height, root.direction, tuple(cuts), rest)


def _left_over(node: Node) -> bool:
    return isinstance(node, Leaf) and node.item is None


def pieces_of(root: Node) -> Counter[int]:
    """The pieces of a layout, by item id."""
    return Counter(leaf.item for leaf in leaves(root) if leaf.item is not None)
