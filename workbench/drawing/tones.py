"""How light or dark a print or a card is as a whole: each colour by the area that it covers."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from workbench.craft.card import BASE
from workbench.craft.contrast import luminance
from workbench.craft.paper import Paper
from workbench.craft.project import Project
from workbench.craft.surface import Seen
from workbench.drawing.prints import colours

# The share of a sheet that is inked, as on the tiles of patterns.py.
INKED: Mapping[str, float] = {
    "solid": 0.0,
    "stripe": 0.5,
    "dot": 0.14,
    "check": 0.5,
    "floral": 0.22,
    "text": 0.12,
    "scallop": 0.16,
    "speckle": 0.04,
}
_NAMED = 0.19
# CIE lightness L* (CIE 15) of 40 and 70, as relative luminances: below lies dark, above light.
DARK, LIGHT = 0.1125, 0.4075


class Tones(NamedTuple):
    """The shares of a card that are light, middling and dark; together 1."""

    light: float
    middle: float
    dark: float


def shares(paper: Paper) -> Iterator[tuple[str, float]]:
    """The colours "#rrggbb" of a print, each with its share of the sheet; together 1."""
    inks, ground = colours(paper)
    inked = INKED.get(paper.print, _NAMED)
    yield ground, 1 - inked
    for ink in inks:
        yield ink, inked / len(inks)


def paper_luminance(paper: Paper) -> float:
    """The relative luminance (WCAG 2.2) of a paper, its colours averaged by area: 0 to 1."""
    return sum(luminance(colour) * share for colour, share in shares(paper))


def card_tones(project: Project, layers: Sequence[Seen], faces: Mapping[str, str]) -> Tones:
    """The shares of a card's visible area that are light, middling and dark.

    Args:
        project: the card.
        layers: what is seen of it, as `surface.seen` gives it.
        faces: the face that each layer shows, by the layer's name; others are left out.
    """
    amounts = [0.0, 0.0, 0.0]
    for layer in layers:
        face = project.card.paper if layer.name == BASE else faces.get(layer.name)
        for colour, share in shares(project.face(face)) if face else ():
            bright = luminance(colour)
            tone = 0 if bright > LIGHT else 2 if bright < DARK else 1
            amounts[tone] += float(layer.area) * share
    whole = sum(amounts)
    return Tones(*(amount / whole for amount in amounts))
