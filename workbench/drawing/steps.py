"""The picture that goes with each step: the sheet and its cut, the base, the piece, the card."""

from dataclasses import replace

from workbench.craft.card import BASE
from workbench.craft.mixing import Mixing
from workbench.craft.project import Project
from workbench.drawing.canvas import Box, Canvas, Cell, fit
from workbench.drawing.cards import draw_card, rounded_cells
from workbench.drawing.piles import draw_piles
from workbench.drawing.prints import colours, fill_print, outline
from workbench.drawing.sheets import draw_sheet
from workbench.making.plan_index import Bench
from workbench.measure.length import ZERO, Unit
from workbench.planning import Part, Sheet, Step


def draw_step(bench: Bench, step: Step, unit: Unit, columns: int, rows: int) -> Canvas:
    """Draw what a step is done to: the sheet and its cut, the base, the piece, or the card.

    Args:
        bench: the plan with its project.
        step: a step of that plan.
        unit: what the sizes on the picture count.
        columns: the cells available across.
        rows: the cells available down.

    Returns:
        A canvas of at most `columns` by `rows`.
    """
    if step.do == "cut":
        return _draw_cut(bench, step, unit, columns, rows)
    if step.do == "score":
        return _draw_score(bench.project, step, unit, columns, rows)
    if step.do == "round":
        return _draw_rounding(bench, step, columns, rows)
    if step.do == "deal":
        return draw_piles(bench, step, columns, rows)
    return _draw_card(bench, step, columns, rows)


def _draw_card(bench: Bench, step: Step, columns: int, rows: int) -> Canvas:
    if step.do == "fold":
        bare = replace(bench.project, pieces=(), mixing=Mixing())
        return draw_card(bare, None, columns, rows)
    if step.do == "mount":
        pieces = bench.combination_of(bench.cards_of(step)[0]).pieces
        piece = bench.parts[step.takes[0]].piece
        return draw_card(bench.project, pieces, columns, rows, marked=piece, inside=True)
    return draw_card(bench.project, bench.combination(step).pieces, columns, rows)


def _draw_cut(bench: Bench, step: Step, unit: Unit, columns: int, rows: int) -> Canvas:
    """The first of the sheets in the stack; parts cut off before are gone."""
    assert step.measure and step.mark
    at_hand = bench.rectangles[step.takes[0]]
    sheet = bench.sheets[at_hand.sheet]
    gone = [part.id for part in sheet.parts if bench.made_by.get(part.id, step.n) < step.n]
    return draw_sheet(
        sheet,
        bench.project.paper(sheet.paper),
        columns,
        rows,
        unit,
        active=at_hand,
        cut=(step.measure, step.mark),
        gone=gone,
    )


def _draw_score(project: Project, step: Step, unit: Unit, columns: int, rows: int) -> Canvas:
    assert step.measure and step.mark
    size = project.card.base_size
    base = Part("", "piece", ZERO, ZERO, size.width, size.height, BASE)
    sheet = Sheet(BASE, project.card.paper, size.width, size.height, (base,))
    paper = project.paper(sheet.paper)
    return draw_sheet(sheet, paper, columns, rows, unit, cut=(step.measure, step.mark))


def _draw_rounding(bench: Bench, step: Step, columns: int, rows: int) -> Canvas:
    part = bench.parts[step.takes[0]]
    piece = bench.project.piece(part.piece or "")
    paper = bench.project.paper(bench.paper_of(part.id))
    canvas = Canvas(*fit(piece.size, columns, rows))
    box = Box(0, 0, canvas.width, canvas.height)
    fill_print(canvas, box, paper)
    canvas.frame(box, Cell(ink=outline(paper), ground=colours(paper).ground))
    for x, y in rounded_cells(box, piece.rounding):
        canvas.rounded(x, y)
        canvas.put(x, y, replace(canvas.cell(x, y), reverse=True, bold=True))
    return canvas
