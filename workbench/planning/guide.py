"""What marks a group cannot do without, as its linear relaxation proves."""

from collections.abc import Set as AbstractSet
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property

from workbench.planning.cutting import Block, CuttingProgram
from workbench.planning.network import TooLargeError
from workbench.planning.search import GroupSearch

MOST_COLUMNS = 2_000


@dataclass
class Guide:
    """The group of `search`, cut from so many `sheets`, papers that are alike as one."""

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
            columns = [column for mark in without for column in self._asked.cuts_at[mark]]
            answer = self._asked.program.relaxed(self.search.watch, without=columns)
            self._known[without] = answer.verdict == "infeasible"
        return self._known[without]

    @cached_property
    def _asked(self) -> CuttingProgram:
        asked = self._program()
        if len(asked.program.costs) > MOST_COLUMNS:
            raise TooLargeError
        asked.ask_all()
        asked.limit_sheets(self.sheets)
        return asked

    def _program(self) -> CuttingProgram:
        group = self.search.likes.merged
        blocks = [Block((supply,)) for supply in group.supplies]
        for reach in reversed(self.search.reaches):
            with suppress(TooLargeError):
                return CuttingProgram(group, blocks, None, reach)
        raise TooLargeError
