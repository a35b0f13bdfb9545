"""Prints as SVG patterns: the same prints as in characters, told apart by shape alone."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from xml.etree.ElementTree import Element, SubElement, tostring
from zlib import crc32

from workbench.craft.paper import SOLID, Paper
from workbench.drawing.prints import colours
from workbench.drawing.svg_elements import svg_root

TILE = 8
"""Millimetres: the side of the square that is repeated."""

_Shape = tuple[str, dict[str, str]]
_Draw = Callable[[Sequence[str]], Iterator[_Shape]]


def fill_of(paper: Paper, number: int) -> str:
    """The value of `fill` for a shape of `paper`: its plain colour, or a reference to its pattern.

    Args:
        paper: the paper.
        number: what was given to `pattern` for it, its own in one picture.
    """
    return colours(paper).ground if paper.print == SOLID else f"url(#print-{number})"


def pattern(paper: Paper, number: int) -> Element:
    """The `<pattern>` element of a paper's print, in millimetres; `number` makes its id unique."""
    side = str(TILE)
    element = Element(
        "pattern", id=f"print-{number}", width=side, height=side, patternUnits="userSpaceOnUse"
    )
    inks, ground = colours(paper)
    SubElement(element, "rect", width=side, height=side, fill=ground)
    draw = _PRINTS.get(paper.print) or _named(paper.print)
    for tag, attributes in draw(inks):
        SubElement(element, tag, attributes)
    return element


def swatch_svg(paper: Paper, width: int, height: int) -> str:
    """A scrap of the print as an SVG document, in millimetres; its ids are not to be met again."""
    root = svg_root(str(width), str(height))
    number = crc32(paper.name.encode())
    if paper.print != SOLID:
        SubElement(root, "defs").append(pattern(paper, number))
    look = {"fill": fill_of(paper, number), "stroke": "#5c5c5c", "stroke-width": "0.3"}
    sides = {"width": str(width), "height": str(height)}
    SubElement(root, "rect", sides | look)
    return tostring(root, encoding="unicode")


def _stripe(inks: Sequence[str]) -> Iterator[_Shape]:
    for place in range(4):
        yield _rectangle(2 * place, 0, 1, TILE, inks[place % len(inks)])


def _dot(inks: Sequence[str]) -> Iterator[_Shape]:
    for place, (x, y) in enumerate(((2, 2), (6, 6))):
        yield _disc(x, y, "1.2", inks[place % len(inks)])


def _check(inks: Sequence[str]) -> Iterator[_Shape]:
    for place, (x, y) in enumerate(((0, 0), (4, 4))):
        yield _rectangle(x, y, 4, 4, inks[place % len(inks)])


def _floral(inks: Sequence[str]) -> Iterator[_Shape]:
    for x, y in ((4, "2.6"), ("5.3", "3.6"), ("4.8", "5.2"), ("3.2", "5.2"), ("2.7", "3.6")):
        yield _disc(x, y, "0.9", inks[0])
    yield _disc(4, 4, "0.7", inks[-1])
    yield _line("M4 5.5 L3.4 7.6", inks[-1])


def _text(inks: Sequence[str]) -> Iterator[_Shape]:
    for place, y in enumerate((2, 6)):
        word = f"M{place} {y} q.5 -1.4 1 0 t1 0 t1 0 m1 0 q.5 -1 1 0 t1 0"
        yield _line(word, inks[place % len(inks)])


def _scallop(inks: Sequence[str]) -> Iterator[_Shape]:
    for place, (x, y) in enumerate(((0, 4), (4, 4), (-2, 8), (2, 8), (6, 8))):
        yield _line(f"M{x} {y} a2 2 0 0 1 4 0", inks[place % len(inks)])


def _speckle(inks: Sequence[str]) -> Iterator[_Shape]:
    specks = ((1, 1, "0.3"), (5, 2, "0.5"), (3, 4, "0.2"), (7, 5, "0.35"), (2, 7, "0.45"))
    for place, (x, y, radius) in enumerate(specks):
        yield _disc(x, y, radius, inks[place % len(inks)])


def _named(name: str) -> _Draw:
    """A print we know only by name: eight short lines, each turned as the name says."""
    number = crc32(name.encode())
    ways = ("M0 0 l1.4 1.4", "M1.4 0 l-1.4 1.4", "M0 .7 h1.4", "M.7 0 v1.4")

    def draw(inks: Sequence[str]) -> Iterator[_Shape]:
        for place in range(16):
            way = ways[number >> 2 * place & 3]
            x, y = place % 4 * 2, place // 4 * 2
            tag, attributes = _line(way, inks[place % len(inks)])
            yield tag, attributes | {"transform": f"translate({x}.3 {y}.3)"}

    return draw


_PRINTS: Mapping[str, _Draw] = {
    "stripe": _stripe,
    "dot": _dot,
    "check": _check,
    "floral": _floral,
    "text": _text,
    "scallop": _scallop,
    "speckle": _speckle,
}


def _rectangle(x: int, y: int, width: int, height: int, fill: str) -> _Shape:
    sides = {"x": str(x), "y": str(y), "width": str(width), "height": str(height)}
    return "rect", sides | {"fill": fill}


def _disc(x: int | str, y: int | str, radius: str, fill: str) -> _Shape:
    return "circle", {"cx": str(x), "cy": str(y), "r": radius, "fill": fill}


def _line(path: str, stroke: str) -> _Shape:
    return "path", {"d": path, "fill": "none", "stroke": stroke, "stroke-width": "0.45"}
