"""The card with a letter and a line to each layer, its sides measured: the picture of a recipe."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.craft.contrast import contrast
from workbench.craft.extent import Extent
from workbench.craft.project import Project
from workbench.craft.surface import seen
from workbench.drawing.lettering import BOLD, shortened, text_width
from workbench.drawing.svg import card_svg
from workbench.drawing.svg_elements import GREY, INK, PAPER, add_words, page, parsed
from workbench.drawing.svg_elements import number as _n
from workbench.drawing.two_units import TwoUnits

_LEFT, _BELOW, _ABOVE = 7.0, 7.5, 2.0
_WIDEST_LABEL = 46.0
_LEAD = 8.0
_NAME, _SMALL, _PITCH = 3.1, 2.5, 8.2
_RADIUS = 2.1
# Under ink this faint a print could not be told from its ground.
_LEAST_CONTRAST = 1.5


@dataclass(frozen=True, slots=True)
class Callout:
    """What is written beside the card of one layer: its letter, its name, and its size."""

    layer: str
    key: str
    words: str
    more: str


def pale(project: Project) -> Project:
    """The project in colours that spare ink: light grounds, every print still to be told."""
    papers = tuple(
        replace(
            paper,
            colours=_pale(paper.colours),
            back=replace(paper.back, colours=_pale(paper.back.colours)) if paper.back else None,
        )
        for paper in project.papers
    )
    return replace(project, papers=papers)


def card_figure(
    project: Project,
    callouts: Sequence[Callout],
    units: TwoUnits,
    *,
    scale: Fraction = Fraction(1),
    papers_by_layer: Mapping[str, str] | None = None,
    inside: bool = False,
) -> str:
    """An SVG document of the front (or the `inside`) at `scale`, a line from each callout.

    The callouts of layers of which nothing shows are still written, without a line.
    """
    front = project.card.size
    width, height = (float(side.mm * scale) for side in (front.width, front.height))
    tall = max(height, len(callouts) * _PITCH)
    labels = min(_WIDEST_LABEL, max(map(_room, callouts))) + _RADIUS * 2 + 1.8
    room = (_LEFT + width + _LEAD + labels, _ABOVE + tall + _BELOW)
    root = page(*room)
    root.set("data-scale", str(scale))
    top = _ABOVE + (tall - height) / 2
    card = parsed(card_svg(project, papers_by_layer, inside=inside))
    card.attrib |= {"x": _n(_LEFT), "y": _n(top), "width": _n(width), "height": _n(height)}
    root.append(card)
    edge = {"x": _n(_LEFT), "y": _n(top), "width": _n(width), "height": _n(height)}
    SubElement(root, "rect", edge | {"fill": "none", "stroke": INK, "stroke-width": "0.3"})
    _dimensions(root, project, units, (_LEFT, top, width, height))
    places = _places(project, float(scale), inside=inside)
    spots = {
        callout.layer: (_LEFT + places[callout.layer][0], top + height - places[callout.layer][1])
        for callout in callouts
        if callout.layer in places
    }
    ordered = sorted(callouts, key=lambda one: spots.get(one.layer, (0.0, room[1]))[1])
    start = _ABOVE + (tall - len(ordered) * _PITCH) / 2
    for row, callout in enumerate(ordered):
        middle = start + (row + 0.5) * _PITCH
        _callout(root, callout, spots.get(callout.layer), (_LEFT + width + _LEAD, middle))
    return tostring(root, encoding="unicode")


def _callout(
    root: Element,
    callout: Callout,
    spot: tuple[float, float] | None,
    at: tuple[float, float],
) -> None:
    x, y = at
    if spot:
        path = f"M{_n(spot[0])} {_n(spot[1])} L{_n(x - 3)} {_n(y)} H{_n(x)}"
        for ink, thick in ((PAPER, "0.9"), (INK, "0.25")):
            SubElement(
                root, "path", {"d": path, "fill": "none", "stroke": ink, "stroke-width": thick}
            )
        dot = {"cx": _n(spot[0]), "cy": _n(spot[1]), "r": "0.8", "fill": INK}
        SubElement(root, "circle", dot | {"stroke": PAPER, "stroke-width": "0.3"})
    disc = {"cx": _n(x + _RADIUS), "cy": _n(y), "r": _n(_RADIUS)}
    SubElement(root, "circle", disc | {"fill": PAPER, "stroke": INK, "stroke-width": "0.3"})
    add_words(root, callout.key, x + _RADIUS, y + 0.95, 2.7, weight=BOLD)
    words_at = x + _RADIUS * 2 + 1.2
    room = _WIDEST_LABEL
    add_words(
        root,
        shortened(callout.words, _NAME, room, BOLD),
        words_at,
        y - 0.3,
        _NAME,
        weight=BOLD,
        anchor="start",
    )
    add_words(
        root,
        shortened(callout.more, _SMALL, room),
        words_at,
        y + 2.8,
        _SMALL,
        ink=GREY,
        anchor="start",
    )


def _room(callout: Callout) -> float:
    return max(text_width(callout.words, _NAME, BOLD), text_width(callout.more, _SMALL))


def _dimensions(
    root: Element,
    project: Project,
    units: TwoUnits,
    place: tuple[float, float, float, float],
) -> None:
    left, top, width, height = place
    below, beside = top + height + 2.5, left - 2.2
    for path in (
        f"M{_n(left)} {_n(below)} h{_n(width)}",
        f"M{_n(left)} {_n(below - 1)} v2 m{_n(width)} -2 v2",
        f"M{_n(beside)} {_n(top)} v{_n(height)}",
        f"M{_n(beside - 1)} {_n(top)} h2 m-2 {_n(height)} h2",
    ):
        SubElement(root, "path", {"d": path, "fill": "none", "stroke": GREY, "stroke-width": "0.2"})
    size = project.card.size
    across, up = units.both(size.width), units.both(size.height)
    add_words(root, across, left + width / 2, below + 3.6, _SMALL, ink=GREY)
    x, y = beside - 1.6, top + height / 2
    add_words(root, up, x, y, _SMALL, ink=GREY, upwards=True)


def _places(project: Project, scale: float, *, inside: bool) -> dict[str, tuple[float, float]]:
    """A spot of each piece that shows, from the bottom left: in its largest part, to the right.

    Of several on a card, a spot of the first that shows.
    """
    found: dict[str, tuple[float, float]] = {}
    for layer in seen(project, inside=inside):
        if layer.parts and layer.piece not in found:
            part = max(layer.parts, key=_reach)
            right, left = float(part.right.mm) * scale, float(part.left.mm) * scale
            x = max((left + right) / 2, right - 3)
            found[layer.piece] = x, float(((part.bottom + part.top) / 2).mm) * scale
    return found


def _reach(part: Extent) -> tuple[Fraction, Fraction]:
    """Where a line ends well: not in a thin border if there is more, then far to the right."""
    thin = min(part.width.mm, part.height.mm, Fraction(6))
    return thin, part.right.mm


def _pale(shown: Sequence[str]) -> tuple[str, ...]:
    if not shown:
        return ()
    *inks, ground = shown
    light = _mixed(ground, 0.82)
    return (*(_telling(ink, ground, light) for ink in inks), light)


def _telling(ink: str, ground: str, light: str) -> str:
    """An ink to be told from the light ground: itself, or the ground it was printed on."""
    return next(
        (
            _mixed(one, 0.15)
            for one in (ink, ground)
            if contrast(_mixed(one, 0.15), light) >= _LEAST_CONTRAST
        ),
        "#8a8a8a",
    )


def _mixed(colour: str, share: float) -> str:
    """`colour` with that `share` of white."""
    parts = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{round(part + (255 - part) * share):02x}" for part in parts)
