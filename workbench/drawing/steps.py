"""The picture that goes with each step: the sheet and its cut, the base, the piece, the card."""

from workbench.craft.card import BASE, FRONT
from workbench.craft.geometry import placements
from workbench.craft.project import Project
from workbench.drawing.canvas import Box, Canvas, fit
from workbench.drawing.cards import draw_card, draw_layer
from workbench.drawing.piles import draw_piles
from workbench.drawing.sheets import draw_sheet
from workbench.making.plan_index import PlanIndex
from workbench.measure.length import ZERO, Unit
from workbench.planning import (
    Assemble,
    Cut,
    Deal,
    Fold,
    Mount,
    Own,
    Part,
    Round,
    Score,
    Sheet,
    Step,
)


def draw_step(index: PlanIndex, step: Step, unit: Unit, columns: int, rows: int) -> Canvas:
    """Draw what a step is done to: the sheet and its cut, the base, the piece, or the card.

    Args:
        index: the plan with its project.
        step: a step of that plan.
        unit: what the sizes on the picture count.
        columns: the cells available across.
        rows: the cells available down.

    Returns:
        A canvas of at most `columns` by `rows`.
    """
    match step:
        case Cut():
            return _draw_cut(index, step, unit, columns, rows)
        case Score():
            return _draw_score(index.project, step, unit, columns, rows)
        case Fold():
            return draw_card(_bare(index.project), None, columns, rows)
        case Round():
            return _draw_rounding(index, step, columns, rows)
        case Deal():
            return draw_piles(index, step, columns, rows)
        case Mount():
            return _draw_mounting(index, step, columns, rows)
        case Assemble():
            pieces = index.combination_of(step.card).pieces
            return draw_card(index.project, pieces, columns, rows)
        case Own():
            return _draw_own(index, step, unit, columns, rows)


def _bare(project: Project) -> Project:
    """Its card, with nothing on it yet."""
    return Project(project.title, project.units, project.card, project.papers)


def _draw_mounting(index: PlanIndex, step: Mount, columns: int, rows: int) -> Canvas:
    """The first of the cards, open."""
    pieces = index.combination_of(index.cards_of(step)[0]).pieces
    piece = index.parts[step.takes[0]].piece
    return draw_card(index.project, pieces, columns, rows, marked=piece, inside=True)


def _draw_cut(index: PlanIndex, step: Cut, unit: Unit, columns: int, rows: int) -> Canvas:
    """The first of the sheets in the stack; parts cut off before are gone."""
    at_hand = index.rectangles[step.takes[0]]
    sheet = index.sheets[at_hand.sheet]
    gone = [part for part in sheet.parts if index.made_by.get(sheet.part_id(part), step.n) < step.n]
    return draw_sheet(
        sheet,
        index.project.paper(sheet.paper),
        columns,
        rows,
        unit,
        active=at_hand,
        cut=(step.measure, step.mark),
        gone=gone,
    )


def _draw_score(project: Project, step: Score, unit: Unit, columns: int, rows: int) -> Canvas:
    size = project.card.base_size
    base = Part((), "piece", BASE, ZERO, ZERO, size.width, size.height)
    sheet = Sheet(BASE, project.card.paper, size.width, size.height, parts=(base,))
    paper = project.paper(sheet.paper)
    return draw_sheet(sheet, paper, columns, rows, unit, cut=(step.measure, step.mark))


def _draw_own(index: PlanIndex, step: Own, unit: Unit, columns: int, rows: int) -> Canvas:
    """The card with what it is done to in relief; before the cutting, the first of the sheets."""
    own = index.project.own_step(step.name)
    if own.when == "before cutting":
        sheet = index.sheets[step.takes[0].sheet]
        return draw_sheet(sheet, index.project.paper(sheet.paper), columns, rows, unit)
    number = index.layer_of.get(step.takes[0], (1, ""))[0]
    pieces = index.combination_of(number).pieces
    marked = None if own.on == FRONT else own.on
    inside = any(place.piece.name == own.on and place.inside for place in placements(index.project))
    return draw_card(index.project, pieces, columns, rows, marked=marked, inside=inside)


def _draw_rounding(index: PlanIndex, step: Round, columns: int, rows: int) -> Canvas:
    part = index.parts[step.takes[0]]
    piece = index.project.piece(part.piece or "")
    paper = index.project.paper(index.paper_of(step.takes[0]))
    canvas = Canvas(*fit(piece.size, columns, rows))
    draw_layer(canvas, Box(0, 0, canvas.width, canvas.height), paper, piece.rounding)
    return canvas
