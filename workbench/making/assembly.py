"""The layers of one card, back to front: what each is, and how it is placed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbench.craft.card import BASE, FRONT, INSIDE
from workbench.craft.extent import Borders, Extent
from workbench.craft.geometry import Placement, copies_of, placements
from workbench.craft.project import Project, layer_names
from workbench.making.words import written_length
from workbench.measure.length import ZERO, Length
from workbench.measure.writing import Graduation
from workbench.planning import Combination

_FOLDED = {
    "top": "folded, the fold at the top",
    "side": "folded, the fold at the left",
    "none": "flat, print upright",
}
_APART = "goes with the card, glued to nothing on it"


@dataclass(frozen=True, slots=True)
class Laid:
    """A layer by name, its paper, and how it is placed, in words.

    An `even` border is left on two sides of it at least; `flush`, it lies along an edge.
    """

    name: str
    paper: str
    how: str
    even: bool = False
    flush: bool = False


def layers_of(
    project: Project, combination: Combination, graduation: Graduation
) -> tuple[Laid, ...]:
    """The card's layers, the base first. Layers that were not cut are left out."""
    placed = {placement.piece.name: placement for placement in placements(project)}
    laid = [Laid(BASE, project.card.paper, _FOLDED[project.card.fold])]
    for layer in project.layers():
        paper = combination.pieces.get(layer.name)
        if paper and layer.piece.is_apart:
            laid.append(Laid(layer.name, paper, _APART))
        elif paper:
            copies = dict(
                zip(
                    layer_names(layer.piece),
                    copies_of(project, placed[layer.piece.name]),
                    strict=True,
                )
            )
            placement = copies[layer.name]
            borders = _borders(project, placement, placed.get(layer.piece.on))
            on = {FRONT: "on the front", INSIDE: "inside the card"}.get(
                layer.piece.on, f"on the {layer.piece.on}"
            )
            loose = layer.name != layer.piece.name and layer.piece.spread == "loose"
            where = "loose, wherever you like" if loose else _placed(borders, graduation)
            how = f"{on}, {where}"
            laid.append(Laid(layer.name, paper, how, _is_even(borders), _is_flush(borders)))
    return tuple(laid)


def lining_up(laid: Sequence[Laid]) -> Iterator[str]:
    """How to lay these truly by hand. Common practice, no source."""
    if any(each.even for each in laid):
        yield "Even borders: turn the card, line up three edges."
    if any(each.flush for each in laid):
        yield "Flush edges: push both against a straight edge."


def _borders(project: Project, placement: Placement, under: Placement | None) -> Borders:
    bearer = under.piece.size if under else project.card.size
    x, y = (under.x, under.y) if under else (ZERO, ZERO)
    return Extent.of(x, y, bearer).borders(placement.extent)


def _is_even(borders: Borders) -> bool:
    across, up = borders.left == borders.right, borders.bottom == borders.top
    return (across and borders.left > ZERO) or (up and borders.bottom > ZERO)


def _is_flush(borders: Borders) -> bool:
    return ZERO in (borders.left, borders.right, borders.bottom, borders.top)


def _placed(borders: Borders, graduation: Graduation) -> str:
    if borders.left == borders.right == borders.bottom == borders.top:
        return _even(borders.left, graduation)
    across = _along(borders.left, borders.right, ("left", "right"), "across", graduation)
    up = _along(borders.bottom, borders.top, ("bottom", "top"), "up and down", graduation)
    return f"{across}, {up}"


def _even(border: Length, graduation: Graduation) -> str:
    if not border:
        return "edge to edge"
    return f"an even border of {written_length(border, graduation)} all round"


def _along(
    near: Length, far: Length, edges: tuple[str, str], way: str, graduation: Graduation
) -> str:
    if near == far:
        return f"centred {way}" if near else f"edge to edge {way}"
    if not near or not far:
        return f"flush {edges[0] if not near else edges[1]}"
    if near < ZERO:
        return f"{written_length(-near, graduation)} over the {edges[0]} edge"
    return f"{written_length(near, graduation)} from the {edges[0]}"
