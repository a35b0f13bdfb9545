"""The front of a card as SVG in millimetres, true to scale: the same card as in characters."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.craft.card import BASE, FRONT, Corner
from workbench.craft.extent import Extent
from workbench.craft.geometry import (
    Placement,
    bearer_extent,
    extent_of,
    front_extent,
    placements,
    punched,
)
from workbench.craft.paper import Paper
from workbench.craft.project import Project
from workbench.drawing.cards import a_mix, faces_seen
from workbench.drawing.labels import write_border
from workbench.drawing.patterns import fill_of, pattern
from workbench.drawing.prints import outline
from workbench.drawing.svg_elements import INK, svg_root
from workbench.drawing.svg_elements import number as _decimal
from workbench.measure.length import ZERO, Length, Unit
from workbench.measure.numerals import plain

_AROUND: tuple[Corner, ...] = ("top left", "top right", "bottom right", "bottom left")
_THIN = "0.2"
_HALO = "#ffffff"
_EDGE = 1 / 150  # of the longer side: a fifth of a millimetre where that is 30 mm


def card_svg(
    project: Project,
    papers_by_layer: Mapping[str, str] | None = None,
    *,
    measured: str | None = None,
    unit: Unit = "mm",
    inside: bool = False,
    edged: bool = False,
) -> str:
    """Draw the front of a card, or its inside, as an SVG document in millimetres.

    What sticks out over the card is cut off. A print has the same id in every picture of a project,
    so that several may stand on one page.

    Args:
        project: the card.
        papers_by_layer: the face that each layer shows, as in `draw_card`.
        measured: the name of a piece whose borders are dimensioned, None for none.
        unit: what the dimensions count.
        inside: whether to draw what lies inside, and that alone.
        edged: whether its edge is drawn so that it is seen in a small picture on white paper.
    """
    mix = a_mix(project) if papers_by_layer is None else papers_by_layer
    drawing = _Drawing(project, mix, unit)
    root = drawing.draw(measured, inside=inside)
    if edged:
        drawing.edge(root)
    return tostring(root, encoding="unicode")


class _Drawing:
    """Turns lengths from the bottom left into numbers from the top left."""

    def __init__(self, project: Project, mix: Mapping[str, str], unit: Unit) -> None:
        self.project = project
        self.mix = mix
        self.unit: Unit = unit
        self.front = front_extent(project)
        self.faces = [face for paper in project.papers for face in paper.faces]

    def draw(self, measured: str | None, *, inside: bool) -> Element:
        root = svg_root(_number(self.front.width), _number(self.front.height))
        SubElement(root, "title").text = self.project.title
        shown = list(self._shown(inside=inside))
        self._define(root, {face for _, face in shown})
        layers = SubElement(root, "g", {"clip-path": "url(#front)"})
        holes = list(punched(self.project, inside=inside))
        for placed, face in shown:
            self._layer(layers, placed, face)
            self._punch_all(layers, holes, placed.piece.name if placed else FRONT)
        self._punch_all(layers, holes, "")
        self._fold(root, inside=inside)
        if measured and any(placed and placed.piece.name == measured for placed, _ in shown):
            self._borders(root, measured)
        return root

    def edge(self, root: Element) -> None:
        """A line just inside all four sides."""
        sides = [float(side.mm) for side in (self.front.width, self.front.height)]
        thick = max(sides) * _EDGE
        place = {"x": _decimal(thick / 2), "y": _decimal(thick / 2)}
        width, height = (_decimal(side - thick) for side in sides)
        look = {"fill": "none", "stroke": INK, "stroke-width": _decimal(thick), "class": "edge"}
        SubElement(root, "rect", {**place, "width": width, "height": height, **look})

    def _shown(self, *, inside: bool) -> Iterator[tuple[Placement | None, str]]:
        """The base, which is no piece, and every copy of each, with the face that it shows."""
        yield None, self.project.card.paper
        for placed in placements(self.project):
            if placed.inside == inside:
                yield from faces_seen(self.project, placed, self.mix)

    def _define(self, root: Element, used: set[str]) -> None:
        definitions = SubElement(root, "defs")
        clip = SubElement(definitions, "clipPath", id="front")
        SubElement(clip, "path", d=self._outline(self.front, {}))
        for number, face in enumerate(self.faces):
            if face.name in used:
                definitions.append(pattern(face, number))

    def _layer(self, layers: Element, placed: Placement | None, face_name: str) -> None:
        name = placed.piece.name if placed else BASE
        face = self.project.face(face_name)
        edge = {"stroke": outline(face), "stroke-width": _THIN, "data-layer": name}
        path = self._outline(*self._shape(placed))
        SubElement(layers, "path", {"d": path, "fill": self._fill(face), **edge})

    def _punch_all(self, layers: Element, holes: Sequence[tuple[str, Extent]], name: str) -> None:
        for on, hole in holes:
            if on == name:
                self._punch(layers, hole)

    def _punch(self, layers: Element, hole: Extent) -> None:
        """White, as nobody sees what will lie behind the card; round at both ends."""
        width, height = _number(hole.width), _number(hole.height)
        place = {"x": _number(hole.left), "y": _number(self.front.height - hole.top)}
        ends = {"rx": _number(min(hole.width, hole.height) / 2)}
        look = {"fill": _HALO, "stroke": INK, "stroke-width": _THIN, "data-hole": ""}
        SubElement(layers, "rect", {**place, **ends, "width": width, "height": height, **look})

    def _fill(self, face: Paper) -> str:
        return fill_of(face, self.faces.index(face))

    def _shape(self, placed: Placement | None) -> tuple[Extent, Mapping[Corner, Length]]:
        if placed is None:
            return self.front, {}
        rounding = placed.piece.rounding
        radii = dict.fromkeys(rounding.corners, rounding.radius) if rounding else {}
        return placed.extent, radii

    def _outline(self, extent: Extent, radii: Mapping[Corner, Length]) -> str:
        """Clockwise from the top left, a quarter circle at each corner that has a radius."""
        left, right = extent.left, extent.right
        top, bottom = self.front.top - extent.top, self.front.top - extent.bottom
        corners: dict[Corner, tuple[Length, Length]] = {
            "top left": (left, top),
            "top right": (right, top),
            "bottom right": (right, bottom),
            "bottom left": (left, bottom),
        }
        into = {"top left": (0, 1), "top right": (-1, 0), "bottom right": (0, -1)}
        out = {"top left": (1, 0), "top right": (0, 1), "bottom right": (-1, 0)}
        steps: list[str] = []
        for corner in _AROUND:
            x, y = corners[corner]
            radius = radii.get(corner, ZERO)
            before, after = into.get(corner, (1, 0)), out.get(corner, (0, -1))
            steps.append(f"{'L' if steps else 'M'}{_point(x, y, before, radius)}")
            if radius:
                r = _number(radius)
                steps.append(f"A{r} {r} 0 0 1 {_point(x, y, after, radius)}")
        return " ".join([*steps, "Z"])

    def _fold(self, root: Element, *, inside: bool) -> None:
        """A dashed line along the fold: at the top, or at the left (inside, the right) side."""
        width, height = _number(self.front.width), _number(self.front.height)
        x = width if inside else "0"
        ends = {"top": f"M0 0 L{width} 0", "side": f"M{x} 0 L{x} {height}"}
        if path := ends.get(self.project.card.fold):
            look = {"stroke": INK, "stroke-width": "1", "stroke-dasharray": "3 1.5"}
            SubElement(root, "path", {"d": path, "class": "fold", "fill": "none", **look})

    def _borders(self, root: Element, name: str) -> None:
        """A line across each border, its width beside it."""
        piece = extent_of(self.project, name)
        bearer = bearer_extent(self.project, name)
        borders = bearer.borders(piece)
        x, y = (piece.left + piece.right) / 2, (piece.bottom + piece.top) / 2
        lines = (
            (borders.left, (bearer.left, y), (piece.left, y)),
            (borders.right, (piece.right, y), (bearer.right, y)),
            (borders.bottom, (x, bearer.bottom), (x, piece.bottom)),
            (borders.top, (x, bearer.top), (x, piece.top)),
        )
        group = SubElement(root, "g", {"class": "borders", "font-size": "3", "fill": INK})
        for border, start, end in lines:
            if border:
                self._border(group, border, start, end)

    def _border(
        self,
        group: Element,
        border: Length,
        start: tuple[Length, Length],
        end: tuple[Length, Length],
    ) -> None:
        x1, y1, x2, y2 = (
            _number(start[0]),
            _number(self.front.top - start[1]),
            _number(end[0]),
            _number(self.front.top - end[1]),
        )
        path = f"M{x1} {y1} L{x2} {y2}"
        for ink, width in ((_HALO, "1.2"), (INK, "0.4")):
            SubElement(group, "path", {"d": path, "stroke": ink, "stroke-width": width})
        at_right = end[0] == self.front.right
        at = {
            "x": x2 if at_right else x1,
            "y": _lower(y1, y2),
            "dx": "-0.8" if at_right else "0.8",
            "dy": "-0.9",
            "text-anchor": "end" if at_right else "start",
        }
        # Twice, as not every reader of SVG knows paint-order.
        for look in ({"class": "halo", "stroke": _HALO, "stroke-width": "0.8"}, {}):
            words = SubElement(group, "text", at | look)
            words.text = f"{write_border(border, self.unit)} {self.unit}"


def _lower(*heights: str) -> str:
    """The one further down the page."""
    return max(heights, key=Fraction)


def _point(x: Length, y: Length, way: tuple[int, int], radius: Length) -> str:
    return f"{_number(x + radius * way[0])} {_number(y + radius * way[1])}"


def _number(length: Length) -> str:
    """Millimetres to the nearest ten thousandth, as fine as any picture needs."""
    return plain(Fraction(round(length.mm * 10_000), 10_000))
