"""The layers of one card, back to front: what each is, and how it is placed."""

from dataclasses import dataclass

from workbench.craft.card import BASE, FRONT, INSIDE
from workbench.craft.geometry import Placement, placements
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.making.words import written_length
from workbench.measure.length import ZERO, Length
from workbench.measure.writing import Graduation
from workbench.planning.plan import Combination

_FOLDED = {
    "top": "folded, the fold at the top",
    "side": "folded, the fold at the left",
    "none": "flat, print upright",
}


@dataclass(frozen=True, slots=True)
class Laid:
    """A layer by name, its paper, and how it is placed, in words."""

    name: str
    paper: str
    how: str


def layers_of(
    project: Project, combination: Combination, graduation: Graduation
) -> tuple[Laid, ...]:
    """The card's layers, the base first. Layers that were not cut are left out."""
    placed = {placement.piece.name: placement for placement in placements(project)}
    laid = [Laid(BASE, project.card.paper, _FOLDED[project.card.fold])]
    for layer in project.layers():
        paper = combination.pieces.get(layer.name)
        if paper:
            placement = placed[layer.piece.name]
            how = _how(project, placement, placed.get(layer.piece.on), graduation)
            laid.append(Laid(layer.name, paper, how))
    return tuple(laid)


def _how(
    project: Project, placement: Placement, under: Placement | None, graduation: Graduation
) -> str:
    bearer = under.piece.size if under else project.card.size
    left = placement.x - (under.x if under else ZERO)
    bottom = placement.y - (under.y if under else ZERO)
    on = {FRONT: "on the front", INSIDE: "inside the card"}.get(
        placement.piece.on, f"on the {placement.piece.on}"
    )
    return f"{on}, {_placed(placement.piece.size, bearer, left, bottom, graduation)}"


def _placed(size: Size, bearer: Size, left: Length, bottom: Length, graduation: Graduation) -> str:
    right = bearer.width - size.width - left
    top = bearer.height - size.height - bottom
    if left == right == bottom == top:
        return _even(left, graduation)
    across = _along(left, right, ("left", "right"), "across", graduation)
    up = _along(bottom, top, ("bottom", "top"), "up and down", graduation)
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
