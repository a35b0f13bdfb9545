"""What marks a group cannot do without, as its linear relaxation proves."""

from collections.abc import Set as AbstractSet
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property

from workbench.planning.sheets.arc_flow import CuttingProgram
from workbench.planning.sheets.cut_graph import TooLargeError
from workbench.planning.sheets.search import GroupSearch, Limits

MOST_COLUMNS = 4_000


@dataclass
class Guide:
    """The group of `search`, cut from so many `sheets`."""

    search: GroupSearch
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
            answer = self._asked.program.relaxed(self.search.watch, without=columns)
            self._known[without] = answer.verdict == "infeasible"
        return self._known[without]

    @cached_property
    def _asked(self) -> CuttingProgram:
        for reach in reversed(self.search.reaches):
            with suppress(TooLargeError):
                return self.search.asked(Limits(self.sheets, None, reach), MOST_COLUMNS)
        raise TooLargeError
