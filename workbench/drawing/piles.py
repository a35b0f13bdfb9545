"""The piles that cards are dealt into, one a card, each at its numbered place."""

from workbench.craft.paper import Paper, Size
from workbench.drawing.canvas import Box, Canvas, Cell, fit
from workbench.drawing.cards import draw_layer
from workbench.making.plan_index import PlanIndex
from workbench.planning import Deal

_LOWEST = 3
_GAP = 1


def draw_piles(index: PlanIndex, step: Deal, columns: int, rows: int) -> Canvas:
    """Draw the places of the cards, those that `step` deals a part to in the print of the part.

    Args:
        index: the plan with its project.
        step: a step that deals.
        columns: the cells available across.
        rows: the cells available down.

    Returns:
        A canvas of `columns` by `rows`. Where not all places fit, those that get a part, as many
        as there is room for.
    """
    dealt = set(index.cards_of(step))
    face = index.project.face(index.face_of(step.takes[0]))
    every = [card.card for card in index.plan.combinations]
    width, height = _place(index.project.card.size, len(every), columns, rows)
    across, down = columns // (width + _GAP), max(1, rows // height)
    shown = every if len(every) <= across * down else sorted(dealt)
    canvas = Canvas(columns, rows)
    for at, card in enumerate(shown[: across * down]):
        row, column = divmod(at, across)
        box = Box(column * (width + _GAP), row * height, width, height)
        _draw_place(canvas, box, str(card), face if card in dealt else None)
    return canvas


def _place(size: Size, count: int, columns: int, rows: int) -> tuple[int, int]:
    """The largest place in the shape of the card of which `count` can be seen, if any."""
    for high in range(rows, _LOWEST, -1):
        width, height = fit(size, columns, high)
        if columns // (width + _GAP) * (rows // height) >= count:
            return width, height
    return _narrowest(count), _LOWEST


def _narrowest(count: int) -> int:
    return len(str(count)) + 4


def _draw_place(canvas: Canvas, box: Box, number: str, paper: Paper | None) -> None:
    if paper:
        draw_layer(canvas, box, paper)
    else:
        canvas.edge(box, Cell(dim=True))
    label = f" {number} "
    x = box.x + (box.width - len(label)) // 2
    canvas.text(x, box.y + box.height // 2, label, Cell(bold=paper is not None))
