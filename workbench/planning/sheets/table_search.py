"""The least time at the table, once it is known how few sheets will do.

The groups share the guide: a mark set for one is set for all, and marks may wait for one another
across groups. Where all is small enough, one model (table_model) holds every group; else the groups
are cut in turn, each knowing what the others set.
"""

import math
from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field, replace
from functools import cached_property

from workbench.craft.wish import Wish
from workbench.planning.layouts.tree import marks_of
from workbench.planning.sheets.cutting import Cutting
from workbench.planning.sheets.search import SheetSearch
from workbench.planning.sheets.table_group import GroupTable, joined
from workbench.planning.sheets.table_rounds import Rounds, Solved, TableFigures, TableTask
from workbench.planning.side_by_side import both, side_by_side


@dataclass(frozen=True, slots=True)
class Timed:
    """Cuttings of all groups, what they take, and what is ruled out.

    For true cuttings in rows, of these pieces and sheets, less than `least` seconds are ruled out,
    and fewer than `fewest_marks` marks; None where that is not known.
    """

    cuttings: tuple[Cutting, ...]
    figures: TableFigures
    least: int | None = None
    fewest_marks: int | None = None


@dataclass
class TableSearch:
    """Looks for the cuttings of least time; `searches` and `cuttings` are group by group.

    What another wish asks for is looked for from the quickest on, once that is found.
    """

    searches: Sequence[SheetSearch]
    cuttings: Sequence[Cutting]
    task: TableTask
    _quickest: Sequence[Cutting] | None = field(default=None, init=False)

    def best(self, wish: Wish = "time") -> Timed:
        """The cuttings best at the wish, then in time, then in the offcut they keep.

        Raises:
            Cancelled: the watch stopped it.
        """
        self.task.watch.stage("looking for the least time at the table")
        found = [self._timed([group.fallback for group in self.groups])]
        if self._small:
            found.append(self._together(wish))
        else:
            found.append(self._in_turn(wish))
        best = min(found, key=lambda timed: timed.figures.rank(wish))
        if wish == "time":
            self._quickest = best.cuttings
        proof = found[-1]
        least = max(self._least_by_count, proof.least or 0) or None
        return replace(best, least=least, fewest_marks=proof.fewest_marks)

    @property
    def _least_by_count(self) -> int:
        """What no cutting of so few sheets goes below, however it is cut.

        A cut makes one part more, and no stroke cuts more than the trimmer takes.
        """
        groups = [search.group for search in self.searches]
        pieces = sum(item.least for group in groups for item in group.items)
        sources = [one for group in groups for supply in group.supplies for one in supply.sources]
        offcuts = sum(source.available for source in sources if not source.cost)
        sheets = sum(cutting.sheets for cutting in self.cuttings)
        cuts = max(0, pieces - sheets - offcuts)
        at_once = max((stacks.at_once for stacks in self.task.stacks.values()), default=1)
        return self.task.pace.seconds(min(cuts, 1), math.ceil(cuts / at_once), cuts, 0)

    @property
    def _small(self) -> bool:
        """Whether one model holds all groups, or all that are cut at all."""
        marked = [group.merged.size for group in self.groups if group.candidate_marks]
        return len(marked) <= 1 or sum(marked) <= self.task.watch.limits.joint_arcs

    @cached_property
    def groups(self) -> list[GroupTable]:
        """Each group with its graphs."""
        marks = [
            {mark for one in cut.layouts for mark in marks_of(one.root)} for cut in self.cuttings
        ]
        return [
            GroupTable(search, cutting, self.task, not any(marks[:n] + marks[n + 1 :]))
            for n, (search, cutting) in enumerate(zip(self.searches, self.cuttings, strict=True))
        ]

    @property
    def _known(self) -> Sequence[Cutting]:
        return self._quickest or [group.fallback for group in self.groups]

    def _timed(self, cuttings: Sequence[Cutting]) -> Timed:
        layouts = [layout for cutting in cuttings for layout in cutting.layouts]
        return Timed(tuple(cuttings), self.task.measure(layouts))

    def _together(self, wish: Wish) -> Timed:
        rounds = self._of_all(self._known, wish)
        solved = rounds.solved()
        if solved is None:
            return self._timed([group.fallback for group in self.groups])
        complete = all(group.complete for group in self.groups)
        as_solved = copy(rounds)
        roomier, least = both(
            rounds.roomier, lambda: as_solved.least_of_all_orders() if complete else None
        )
        timed = self._among_papers(solved, wish)
        if roomier:
            timed = _better(timed, self._among_papers(roomier, wish), wish)
        if not complete:
            return timed
        bounds = [least] if self._stacks_any else [least, solved.least]
        least = max((bound for bound in bounds if bound is not None), default=None)
        return replace(timed, least=least, fewest_marks=solved.fewest_marks)

    def _among_papers(self, solved: Solved, wish: Wish) -> Timed:
        cuttings = []
        for number, (group, layouts) in enumerate(zip(self.groups, solved.layouts, strict=True)):
            others = solved.layouts[:number] + solved.layouts[number + 1 :]
            cuttings.append(group.among_papers(layouts, wish, others))
        return self._timed(cuttings)

    def _in_turn(self, wish: Wish) -> Timed:
        """The groups one after the other, each knowing what those before it set."""
        cuttings = [group.fallback for group in self.groups]
        solved_by: dict[int, Rounds] = {}
        for number, group in enumerate(self.groups):
            before = [cutting.layouts for cutting in cuttings[:number]]
            part = group.knowing(self._known[number])
            rounds = Rounds(self.task, [part], wish, joined(before))
            if solved := rounds.solved():
                solved_by[number] = rounds
                cuttings[number] = group.among_papers(solved.layouts[0], wish, before)
        found, least = both(
            lambda: side_by_side([rounds.roomier for rounds in solved_by.values()]),
            lambda: self._least_of_all(cuttings, wish),
        )
        roomier = {n: one for n, one in zip(solved_by, found, strict=True) if one}
        return self._roomier(replace(self._timed(cuttings), least=least), roomier, wish)

    def _roomier(self, timed: Timed, found: Mapping[int, Solved], wish: Wish) -> Timed:
        """The same with a larger offcut, where some group can leave one in no more time."""
        for number, roomier in found.items():
            others = [one.layouts for n, one in enumerate(timed.cuttings) if n != number]
            cuttings = list(timed.cuttings)
            cuttings[number] = self.groups[number].among_papers(roomier.layouts[0], wish, others)
            timed = _better(timed, self._timed(cuttings), wish)
        return timed

    def _least_of_all(self, cuttings: Sequence[Cutting], wish: Wish) -> int | None:
        """What no cutting of all groups goes below; None where that is too much to work out.

        The groups are known to be cut as in `cuttings`.
        """
        if wish != "time" or not all(group.complete for group in self.groups):
            return None
        return self._of_all(cuttings, wish).least_of_all_orders()

    def _of_all(self, cuttings: Sequence[Cutting], wish: Wish) -> Rounds:
        pairs = zip(self.groups, cuttings, strict=True)
        parts = [group.knowing(cutting) for group, cutting in pairs]
        return Rounds(self.task, parts, wish, ())

    @property
    def _stacks_any(self) -> bool:
        """Whether any paper is stacked at all."""
        return any(stacks.at_once > 1 for stacks in self.task.stacks.values())


def _better(one: Timed, other: Timed, wish: Wish) -> Timed:
    """The better of the two, with what is ruled out by the first."""
    if other.figures.rank(wish) < one.figures.rank(wish):
        return replace(one, cuttings=other.cuttings, figures=other.figures)
    return one
