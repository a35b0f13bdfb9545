"""A table of figures, as lines for a terminal and as Markdown."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest

Row = Sequence[str]


@dataclass
class Table:
    """A title, the heads of the columns, rows of cells, and sentences that follow."""

    title: str
    heads: Row
    rows: list[Row] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def text(self) -> str:
        widths = [max(map(len, column)) for column in self._columns()]
        lines = [self.title.upper(), *self._aligned(widths), *self.notes]
        return "\n".join(line.rstrip() for line in lines)

    def markdown(self) -> str:
        lines = [f"### {self.title}", ""]
        if self.rows:
            table = [self.heads, ["---"] * len(self.heads), *self.rows]
            lines += [f"| {' | '.join(row)} |" for row in table] + [""]
        return "\n".join([*lines, *(f"{note}\n" for note in self.notes)])

    def _columns(self) -> Iterator[Row]:
        return zip_longest(self.heads, *self.rows, fillvalue="")

    def _aligned(self, widths: Sequence[int]) -> Iterator[str]:
        for row in [self.heads, *self.rows] if self.rows else []:
            yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
