"""The search for one group's cutting: the fewest sheets, then the fewest strokes of the blade."""

import math
from collections import Counter, defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from workbench.planning.bound import linear_bound
from workbench.planning.cutting import Block, CuttingProgram
from workbench.planning.demand import Group, Supply
from workbench.planning.layout import Layout, leaves, marks_of
from workbench.planning.network import Reach, TooLargeError
from workbench.planning.program import INFINITY, Program
from workbench.planning.watch import Watch

REACHES = (Reach(3), Reach(6, leftovers=True))
NODES = 60
MOST_PARTITIONS = 24


@dataclass(frozen=True, slots=True)
class Cutting:
    """The layouts of one group; `fewest` sheets are possible at best."""

    layouts: tuple[Layout, ...]
    fewest: int

    @property
    def sheets(self) -> int:
        return sum(1 for layout in self.layouts if not layout.offcut)

    @property
    def marks(self) -> frozenset[int]:
        return frozenset(mark for layout in self.layouts for mark in marks_of(layout.root))


class ShortError(Exception):
    """Raised when the paper on hand cannot serve a group."""


@dataclass(frozen=True)
class GroupSearch:
    """Looks for cuttings of `group`; `stack` is how many sheets of a paper are cut at once."""

    group: Group
    stack: Mapping[str, int]
    watch: Watch

    def fewest(self) -> Cutting:
        """A cutting into the fewest sheets found. Raises ShortError, Cancelled."""
        bound = linear_bound(self.group, self.watch).sheets
        if bound is None:
            raise ShortError
        on_hand = sum(supply.sheet.available for supply in self.group.supplies)
        fewest = bound
        for sheets in range(bound, on_hand + 1):
            for reach in REACHES:
                layouts = self.layouts(sheets, reach=reach)
                if layouts is not None:
                    return Cutting(layouts, fewest)
        raise ShortError

    def layouts(
        self, sheets: int, marks: Collection[int] | None = None, reach: Reach = REACHES[0]
    ) -> tuple[Layout, ...] | None:
        """The layouts found with the fewest strokes within `sheets`, setting only `marks`."""
        self.watch.stage("looking for the fewest cuts")
        try:
            found = [layouts for layouts in self._candidates(sheets, marks, reach) if layouts]
        except TooLargeError:
            return None
        return min(found, key=self.strokes, default=None)

    def _candidates(
        self, sheets: int, marks: Collection[int] | None, reach: Reach
    ) -> Iterator[tuple[Layout, ...] | None]:
        merged = self._solved(self.merged, [Block((s,)) for s in self.merged.supplies],
                              sheets, marks, reach)
        if merged is None:
            return
        if len(self.merged.supplies) == len(self.group.supplies):
            yield merged
            return
        dealt = self._dealt_to_papers(merged)
        yield dealt
        for blocks in self._partitions():
            if dealt and len(blocks) > len(self.merged.supplies):
                return
            layouts = self._solved(self.group, blocks, sheets, marks, reach)
            yield layouts
            if layouts:
                return

    @cached_property
    def alike(self) -> list[list[Supply]]:
        """The supplies in sets that can stand for one another, the best stocked first."""
        sets: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            offcuts = supply.paper if len(supply.sources) > 1 else ""
            size = (supply.sheet.width, supply.sheet.height)
            eligible = self.group.eligible(supply)
            sets[size, supply.turns, eligible, supply.dealt_limit, offcuts].append(supply)
        return [
            sorted(supplies, key=lambda supply: -supply.sheet.available)
            for supplies in sets.values()
        ]

    @cached_property
    def merged(self) -> Group:
        """The group as if like papers were one: easier, so what it cannot do the group cannot."""
        supplies, papers = [], {}
        for supplies_alike in self.alike:
            lead, count = supplies_alike[0], len(supplies_alike)
            sheet = replace(lead.sheet, available=sum(s.sheet.available for s in supplies_alike))
            limit = None if lead.dealt_limit is None else lead.dealt_limit * count
            supplies.append(
                replace(lead, sources=(sheet, *lead.sources[1:]), dealt_limit=limit)
            )
            papers.update({supply.paper: lead.paper for supply in supplies_alike})
        items = tuple(
            replace(item, papers=tuple(dict.fromkeys(papers[paper] for paper in item.papers)))
            for item in self.group.items
        )
        return Group(items, tuple(supplies), self.group.cards)

    def _partitions(self) -> Iterator[list[Block]]:
        """Ways to cut papers alike, from all of a kind to each on its own."""
        ways = [list(_compositions(supplies)) for supplies in self.alike]
        ranked = sorted(product(*ways), key=lambda choice: sum(map(len, choice)))
        shortlist = ranked if len(ranked) <= MOST_PARTITIONS else [
            *ranked[: MOST_PARTITIONS - 1], ranked[-1]
        ]
        for choice in shortlist:
            yield [Block(tuple(part)) for parts in choice for part in parts]

    def _solved(
        self,
        group: Group,
        blocks: Sequence[Block],
        sheets: int,
        marks: Collection[int] | None,
        reach: Reach,
    ) -> tuple[Layout, ...] | None:
        cutting = CuttingProgram(group, blocks, marks, reach)
        cutting.ask_all()
        cutting.limit_sheets(0, sheets)
        wanted = cutting.wanted()
        if wanted:
            cutting.price({column: -copies for column, copies in wanted.items()})
            most = cutting.program.solved(self.watch, NODES)
            if not most.found:
                return None
            cutting.program.row(-round(most.value), wanted)
        cutting.price({column: self._weight(copies) for column, copies in cutting.cuts.items()})
        if cutting.program.relaxed(self.watch).verdict == "infeasible":
            return None
        answer = cutting.program.solved(self.watch, NODES)
        return cutting.layouts(answer) if answer.found else None

    def _weight(self, copies: int) -> int:
        at_once = max(self.stack.values()) if copies > 1 else 1
        return math.ceil(copies / at_once)

    def strokes(self, layouts: Sequence[Layout]) -> int:
        """The strokes of the blade when like sheets are stacked."""
        alike = Counter((self.stack[layout.paper], layout.root) for layout in layouts)
        return sum(
            math.ceil(count / at_once) * sum(1 for _ in marks_of(root))
            for (at_once, root), count in alike.items()
        )

    def _dealt_to_papers(self, layouts: Sequence[Layout]) -> tuple[Layout, ...] | None:
        """Share a merged group's layouts among the papers it merged, if their limits allow.

        Each paper gives as near as can be the same number of dealt pieces, so that cards vary.
        """
        dealt_names = {item.name for item in self.group.items if item.dealt}
        kinds = Counter(layouts)
        program = Program()
        most = program.column(cost=1)
        columns: dict[tuple[Layout, str], int] = {}
        for supplies in self.alike:
            lead = supplies[0].paper
            own = [layout for layout in kinds if layout.paper == lead]
            for layout in own:
                parts = {}
                for supply in supplies:
                    parts[columns.setdefault((layout, supply.paper), program.column())] = 1.0
                program.row(kinds[layout], parts, kinds[layout])
            for supply in supplies:
                given = {
                    columns[layout, supply.paper]: float(_dealt_pieces(layout, dealt_names))
                    for layout in own
                }
                limit = INFINITY if supply.dealt_limit is None else supply.dealt_limit
                program.row(0, given, limit)
                program.row(0, {most: 1.0} | {column: -n for column, n in given.items()})
                for offcut in (False, True):
                    taken = {
                        columns[layout, supply.paper]: 1.0
                        for layout in own
                        if layout.offcut == offcut
                    }
                    if taken and not offcut:
                        program.row(0, taken, supply.sheet.available)
        answer = program.solved(self.watch, NODES)
        if not answer.found:
            return None
        return tuple(
            replace(layout, paper=paper)
            for (layout, paper), column in columns.items()
            for _ in range(answer.whole(column))
        )


def _dealt_pieces(layout: Layout, dealt: Collection[str]) -> int:
    return sum(1 for leaf in leaves(layout.root) if leaf.item in dealt)


def _compositions(supplies: list[Supply]) -> Iterator[list[list[Supply]]]:
    """Every way to divide a row of supplies into runs, the fewest runs first."""
    if not supplies:
        yield []
        return
    found = []
    for first in range(len(supplies), 0, -1):
        for others in _compositions(supplies[first:]):
            found.append([supplies[:first], *others])
    yield from sorted(found, key=len)
