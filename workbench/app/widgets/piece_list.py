"""The card and its pieces, a line each, from the back to the front; extras stand last."""

from collections.abc import Collection, Sequence

from rich.text import Text
from textual import getters

from workbench.app.base import WorkbenchApp
from workbench.app.widgets.fitted_table import FittedTable
from workbench.craft.card import BASE, Piece
from workbench.craft.extra import Extra
from workbench.craft.paper import Size
from workbench.craft.project import Project, layer_names
from workbench.drawing.canvas import shortened
from workbench.drawing.labels import write_size
from workbench.measure.length import Unit

COLUMNS = ("Back to front", "Size", " ")
LONGEST_NAME = 18


class PieceList(FittedTable):
    """Lines of the open project, and what stands in the one at hand."""

    app = getters.app(WorkbenchApp)

    def __init__(self, *, id: str) -> None:  # noqa: A002 - as Textual calls it
        super().__init__(id=id, cursor_type="row", cursor_foreground_priority="renderable")

    def fill(self, doubtful: Collection[str]) -> None:
        """List all anew, those named marked; the line at hand stays."""
        row, project, unit = self.cursor_row, self._project, self.app.unit
        rows = [_cells("card", project.card.size, unit, doubtful=BASE in doubtful)]
        for piece, number in self._lines:
            name = layer_names(piece)[number - 1]
            rows.append(_cells(name, piece.size, unit, doubtful=piece.name in doubtful))
        for extra in project.extras:
            rows.append((Text(shortened(f"+ {extra.name}", LONGEST_NAME)), Text(), Text()))
        self.refill(COLUMNS, rows)
        self.move_cursor(row=row)

    def row_of(self, piece: Piece, number: int) -> int:
        """The line of a piece, or of that one of several that are each placed."""
        return self._lines.index((piece, number)) + 1

    @property
    def piece(self) -> Piece | None:
        """The piece at hand; None for the card, which has the first line, and for extras."""
        return at_hand[0] if (at_hand := self._at_hand) else None

    @property
    def number(self) -> int:
        """Which of several that are each placed is at hand; 1 where they are moved as one."""
        return at_hand[1] if (at_hand := self._at_hand) else 1

    @property
    def extra(self) -> Extra | None:
        """The extra at hand; their lines are the last."""
        number, extras = self.cursor_row - 1 - len(self._lines), self._project.extras
        return extras[number] if 0 <= number < len(extras) else None

    @property
    def _project(self) -> Project:
        assert self.app.session is not None
        return self.app.session.project

    @property
    def _lines(self) -> Sequence[tuple[Piece, int]]:
        """What has a line of its own: every piece, and each of several that are each placed."""
        return [
            (piece, number)
            for piece in self._project.pieces
            for number in range(1, len(piece.places) + 2)
        ]

    @property
    def _at_hand(self) -> tuple[Piece, int] | None:
        row, lines = self.cursor_row, self._lines
        return lines[row - 1] if 0 < row <= len(lines) else None


def _cells(name: str, size: Size, unit: Unit, *, doubtful: bool) -> tuple[Text, Text, Text]:
    mark = Text("!", "bold") if doubtful else Text()
    return Text(shortened(name, LONGEST_NAME)), Text(write_size(size, unit)), mark
