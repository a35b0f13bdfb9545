"""A table of lines whose columns are as wide as what stands in them."""

from collections.abc import Sequence
from itertools import zip_longest

from rich.text import Text
from textual.widgets import DataTable

from workbench.drawing.canvas import width_of


class FittedTable(DataTable[Text]):
    """Lays its columns anew for every filling.

    Of its own accord a DataTable measures new rows once it is idle: after they may have been
    painted, and what is painted it keeps.
    """

    def refill(self, labels: Sequence[str], rows: Sequence[Sequence[Text]]) -> None:
        """Show these rows in place of all others, the cursor on the first."""
        self.clear(columns=True)
        for label, width in zip(labels, column_widths(labels, rows), strict=True):
            self.add_column(label, width=width)
        for row in rows:
            self.add_row(*row)


def column_widths(labels: Sequence[str], rows: Sequence[Sequence[Text]]) -> Sequence[int]:
    """The cells that each column takes; a row may end early."""
    columns = zip_longest(labels, *rows, fillvalue="")
    return [max(width_of(str(cell)) for cell in column) for column in columns]
