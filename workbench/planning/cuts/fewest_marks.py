"""The fewest marks: which sizes need never be set, because the cuts at others leave them.

Sets: M, the marks at which anything could be cut; G, the subproblems, which share the guide.
For a set R of marks let f_g(R) be whether subproblem g can be cut at marks of R alone, in its
sheets. Wanted is the smallest R, strips' marks in it, with f_g(R) for every g. A mark whose
removal makes the linear relaxation of some g infeasible is in every such R; the rest is tried by
size, relaxations first. Where proof is out of reach, marks are done without one after another.
"""

import logging
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

from workbench.planning.limits import Limits
from workbench.planning.progress import Watch
from workbench.planning.sheets.arc_flow import ArcFlowModel
from workbench.planning.sheets.cut_graph import TooLargeError
from workbench.planning.sheets.search import Allowance, Cutting, SheetSearch

_log = logging.getLogger(__name__)

Marks = frozenset[int]


class FewMarks(NamedTuple):
    """Cuttings at few marks; fewer than `fewest` are impossible (0: not known)."""

    cuttings: list[Cutting]
    fewest: int


def fewest_marks(
    searches: Sequence[SheetSearch], cuttings: Sequence[Cutting], watch: Watch
) -> FewMarks:
    """The cuttings again, in as many sheets, with the fewest marks, and of such the fewest strokes.

    The groups share the guide: a mark counts once for all of them. Where a proof is out of reach,
    marks are done away with as long as that goes.
    """
    watch.stage("looking for the fewest marks")
    again = _Again(searches, cuttings)
    try:
        return _proven(again, watch.limits)
    except TooLargeError:
        _log.debug("no proof of the fewest marks: done away with one after another")
        return FewMarks(_fewer(again, watch.limits), 0)


@dataclass
class _Again:
    """Cuts every group again, at some marks only."""

    searches: Sequence[SheetSearch]
    cuttings: Sequence[Cutting]
    _found: dict[tuple[int, Marks], Cutting | None] = field(default_factory=dict)

    @cached_property
    def had(self) -> Marks:
        """Every mark that is set now, those of printed strips too."""
        return self.strips.union(*(cutting.marks for cutting in self.cuttings))

    @cached_property
    def strips(self) -> Marks:
        """The marks at which printed strips are cut off, whatever else is."""
        return Marks().union(*(cutting.margin_marks for cutting in self.cuttings))

    def at(self, marks: Marks) -> list[Cutting] | None:
        """Every group cut at `marks` only, or None if some group needs another."""
        found = []
        for number in range(len(self.searches)):
            cutting = self._group(number, marks)
            if cutting is None:
                return None
            found.append(cutting)
        return found

    def _group(self, number: int, marks: Marks) -> Cutting | None:
        own = marks & self._sizes[number]
        if (number, own) not in self._found:
            self._found[number, own] = self._cut(number, own)
        return self._found[number, own]

    def _cut(self, number: int, marks: Marks) -> Cutting | None:
        search, cutting = self.searches[number], self.cuttings[number]
        if cutting.marks <= marks:
            return cutting
        layouts = search.layouts(cutting.sheets, marks)
        return None if layouts is None else replace(cutting, layouts=layouts)

    @cached_property
    def _sizes(self) -> list[Marks]:
        return [
            Marks(side for item in search.group.items for side in (item.width, item.height))
            for search in self.searches
        ]

    def strokes(self, cuttings: Sequence[Cutting]) -> int:
        return sum(
            search.strokes(cutting.layouts)
            for search, cutting in zip(self.searches, cuttings, strict=True)
        )


@dataclass
class MarkRelaxation:
    """The group of `search`, cut from so many `sheets`."""

    search: SheetSearch
    sheets: int
    _known: dict[frozenset[int], bool] = field(default_factory=dict)

    @cached_property
    def marks(self) -> frozenset[int]:
        """Every mark that anything could be cut at. Raises TooLargeError."""
        return frozenset(self._asked.cuts_at)

    def rules_out(self, marks: AbstractSet[int]) -> bool:
        """Whether these marks alone cannot do. Raises TooLargeError and Cancelled."""
        without = self.marks - marks
        if without not in self._known:
            columns = {column for mark in without for column in self._asked.cuts_at[mark]}
            answer = self._asked.program.solve_relaxation(self.search.watch, without=columns)
            self._known[without] = answer.verdict == "infeasible"
        return self._known[without]

    @cached_property
    def _asked(self) -> ArcFlowModel:
        for reach in reversed(self.search.reaches):
            with suppress(TooLargeError):
                return self.search.asked(
                    Allowance(self.sheets, None, reach), self.search.watch.limits.mark_columns
                )
        raise TooLargeError


def _proven(again: _Again, limits: Limits) -> FewMarks:
    """The best cutting at the smallest set of marks that does. Raises TooLargeError.

    What every set must hold is found first, then as few more are tried as may do.
    """
    relaxations = [
        MarkRelaxation(search, cutting.sheets)
        for search, cutting in zip(again.searches, again.cuttings, strict=True)
    ]
    every = Marks().union(*(one.marks for one in relaxations))
    if any(max(every, default=0) > search.group.trimmer.rule for search in again.searches):
        raise TooLargeError  # those are measured on the other part, at other marks

    def may_do(marks: AbstractSet[int]) -> bool:
        return not any(one.rules_out(marks) for one in relaxations)

    if not (again.had <= every | again.strips and may_do(every)):
        raise TooLargeError
    needed = again.strips | {mark for mark in again.had if not may_do(every - {mark})}
    fewest = tried = 0
    for more in range(len(again.had - needed) + 1):
        found = []
        for others in combinations(sorted(every - needed), more):
            tried += 1
            if tried > limits.mark_sets:
                raise TooLargeError
            marks = needed.union(others)
            if not may_do(marks):
                continue
            fewest = fewest or len(marks)
            cut = again.at(marks)
            if cut:
                found.append(cut)
        if found:
            return FewMarks(min(found, key=again.strokes), fewest)
    return FewMarks(list(again.cuttings), fewest)


def _fewer(again: _Again, limits: Limits) -> list[Cutting]:
    """As many marks done away with as is possible.

    A set of marks can only go if each smaller set of them can, so sets are tried by size, each
    made of sets that went.
    """
    best = again.at(again.had) or list(again.cuttings)
    going = [Marks((mark,)) for mark in sorted(again.had - again.strips)]
    trials = 0
    while going:
        gone: dict[Marks, list[Cutting]] = {}
        for marks in going:
            trials += 1
            if trials > limits.mark_trials:
                break
            without = again.at(again.had - marks)
            if without:
                gone[marks] = without
        if gone:
            best = min(gone.values(), key=again.strokes)
        going = list(_grown(list(gone)))
    return best


def _grown(gone: Sequence[Marks]) -> Iterator[Marks]:
    """Each set one larger whose every part of the size below is in `gone`."""
    known = set(gone)
    seen = set()
    for one, other in combinations(gone, 2):
        joined = one | other
        if len(joined) == len(one) + 1 and joined not in seen:
            seen.add(joined)
            if all(joined - {mark} in known for mark in joined):
                yield joined
