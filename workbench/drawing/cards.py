"""The front of a card drawn true to scale: its base and its pieces, back to front."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from workbench.craft.card import FRONT, Corner, Fold, Piece, Rounding
from workbench.craft.extent import Extent
from workbench.craft.geometry import (
    Placement,
    borders_of,
    copies_of,
    extent_of,
    placements,
    punched,
)
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, fits, layer_names
from workbench.drawing.borders import write_borders
from workbench.drawing.canvas import Box, Canvas, Cell, fit
from workbench.drawing.prints import colours, fill_print, outline
from workbench.measure.length import Length, Unit

HOLE = "○"
_TOP_FOLD, _LEFT_FOLD, _RIGHT_FOLD = "▀▌▐"
# What is left of a cell with its corner off.
_CUT_OFF: Mapping[Corner, str] = {
    "top left": "▟",
    "top right": "▙",
    "bottom left": "▜",
    "bottom right": "▛",
}


@dataclass(frozen=True)
class Scale:
    """Turns lengths on the card's front into the edges between cells, counted from the top left.

    Attributes:
        front: the size of the front.
        columns: how many cells it is across.
        rows: how many cells it is down.
    """

    front: Size
    columns: int
    rows: int

    def box(self, extent: Extent) -> Box:
        """The cells that `extent` covers, at least 1 by 1.

        An edge halfway across a cell goes inwards, so that a narrow border still shows.
        """
        left = _up_from_half(self._across(extent.left))
        right = _down_from_half(self._across(extent.right))
        bottom = self.rows - _up_from_half(self._up(extent.bottom))
        top = self.rows - _down_from_half(self._up(extent.top))
        return Box(left, top, max(1, right - left), max(1, bottom - top))

    def _across(self, x: Length) -> Fraction:
        return x.ratio(self.front.width) * self.columns

    def _up(self, y: Length) -> Fraction:
        return y.ratio(self.front.height) * self.rows


def _up_from_half(number: Fraction) -> int:
    return floor(number + Fraction(1, 2))


def _down_from_half(number: Fraction) -> int:
    return ceil(number - Fraction(1, 2))


def draw_card(
    project: Project,
    papers_by_layer: Mapping[str, str] | None,
    columns: int,
    rows: int,
    *,
    marked: str | None = None,
    number: int | None = None,
    measured: Unit | None = None,
    inside: bool = False,
) -> Canvas:
    """Draw the front of a card, or its inside, true to scale. The fold is a heavy edge.

    What sticks out over the card is cut off.

    Args:
        project: the card.
        papers_by_layer: the face that each layer shows, by the layer's name, as in a
            `Combination`; a layer that is missing is not drawn. None mixes them as `a_mix` does.
        columns: the cells available across.
        rows: the cells available down.
        marked: the name of a piece to make out from the others, None for none.
        number: which one to make out of several on a card, from 1; None for all of them.
        measured: the unit in which to write the borders of the marked piece, None not to.
        inside: whether to draw what lies inside, and that alone.

    Returns:
        A canvas just as large as the card on it.
    """
    mix = a_mix(project) if papers_by_layer is None else papers_by_layer
    front = project.card.size
    scale = Scale(front, *fit(front, columns, rows))
    canvas = Canvas(scale.columns, scale.rows)
    base = project.paper(project.card.paper)
    draw_layer(canvas, Box(0, 0, scale.columns, scale.rows), base)
    holes = list(punched(project, inside=inside))
    _punch(canvas, scale, holes, FRONT)
    for placed in placements(project):
        piece = placed.piece
        if placed.inside != inside:
            continue
        for copy, face in faces_seen(project, placed, mix):
            box = scale.box(copy.extent)
            made_out = piece.name == marked and number in (None, copy.number)
            draw_layer(canvas, box, project.face(face), piece.rounding, marked=made_out)
        _punch(canvas, scale, holes, piece.name)
    _punch(canvas, scale, holes, "")
    _fold(canvas, project.card.fold, inside=inside)
    if marked and measured and not project.piece(marked).is_apart:
        which = number or 1
        box = scale.box(extent_of(project, marked, which))
        write_borders(canvas, box, borders_of(project, marked, which), measured)
    return canvas


def a_mix(project: Project) -> dict[str, str]:
    """A face for each layer of a card, by its name: one not used behind it if it has one."""
    mix: dict[str, str] = {}
    used: set[str] = set()
    papers = {paper.name: paper for paper in project.papers}
    for piece in project.pieces:
        size, of = piece.size, [papers[name] for name in piece.papers]
        faces = [(paper, face.name) for paper in of for face in paper.faces]
        # Whether a sheet is large enough is asked last: there may be thousands to ask it of.
        fresh = (face for paper, face in faces if face not in used and fits(paper, size))
        first = next(face for paper, face in faces if fits(paper, size))
        for name in layer_names(piece):
            mix[name] = next(fresh, first)
            used.add(mix[name])
    return mix


def seen_face(piece: Piece, papers_by_layer: Mapping[str, str]) -> str | None:
    """The face that `piece` shows on a card, None where the card does not get the piece.

    Copies of a piece lie on one another, so the last is seen.
    """
    cut = [papers_by_layer[name] for name in layer_names(piece) if name in papers_by_layer]
    return cut[-1] if cut else None


def faces_seen(
    project: Project, placed: Placement, papers_by_layer: Mapping[str, str]
) -> Iterator[tuple[Placement, str]]:
    """Every copy of a piece that is seen, with the face that it shows; none that a card lacks."""
    if placed.piece.spread == "loose":
        face = seen_face(placed.piece, papers_by_layer)
        if face is not None:
            yield placed, face
        return
    for name, copy in zip(layer_names(placed.piece), copies_of(project, placed), strict=True):
        if name in papers_by_layer:
            yield copy, papers_by_layer[name]


def draw_layer(
    canvas: Canvas,
    box: Box,
    paper: Paper,
    rounding: Rounding | None = None,
    *,
    marked: bool = False,
) -> None:
    """Draw a rectangle of paper: its print, the outline along its edge, its corners off."""
    corners = rounded_cells(box, rounding)
    behind = [canvas.cell(x, y).ground for x, y in corners.values()]
    fill_print(canvas, box, paper)
    ground = colours(paper).ground
    canvas.edge(box, Cell(ink=outline(paper), ground=ground, reverse=marked))
    if box.width > 1 and box.height > 1:
        for (corner, (x, y)), below in zip(corners.items(), behind, strict=True):
            ink = outline(paper) if marked else ground
            canvas.put(x, y, Cell(_CUT_OFF[corner], ink=ink, ground=below))


def _punch(canvas: Canvas, scale: Scale, holes: Sequence[tuple[str, Extent]], name: str) -> None:
    """The holes in what is called `name`: a round one as one sign, a slot from end to end."""
    for box in (scale.box(hole) for on, hole in holes if on == name):
        for y in range(box.y, box.bottom + 1):
            for x in range(box.x, box.right + 1):
                if 0 <= x < canvas.width and 0 <= y < canvas.height:
                    canvas.put(x, y, replace(canvas.cell(x, y), char=HOLE))


def _fold(canvas: Canvas, fold: Fold, *, inside: bool) -> None:
    """Make the folded edge heavy: the top, or the left side (seen from inside, the right)."""
    if fold == "top":
        for x in range(canvas.width):
            _heavy(canvas, x, 0, _TOP_FOLD)
    if fold == "side":
        for y in range(canvas.height):
            x, stroke = (canvas.width - 1, _RIGHT_FOLD) if inside else (0, _LEFT_FOLD)
            _heavy(canvas, x, y, stroke)


def _heavy(canvas: Canvas, x: int, y: int, stroke: str) -> None:
    cell = canvas.cell(x, y)
    canvas.put(x, y, replace(cell, char=stroke))


def rounded_cells(box: Box, rounding: Rounding | None) -> dict[Corner, tuple[int, int]]:
    """The (x, y) of the cells at the corners of `box` that `rounding` takes off."""
    at: dict[Corner, tuple[int, int]] = {
        "top left": (box.x, box.y),
        "top right": (box.right, box.y),
        "bottom left": (box.x, box.bottom),
        "bottom right": (box.right, box.bottom),
    }
    return {corner: at[corner] for corner in rounding.corners} if rounding else {}
