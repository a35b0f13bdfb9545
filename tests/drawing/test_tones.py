"""How light prints and cards are, against Shapely's areas of the very tiles that SVG repeats."""

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from xml.etree.ElementTree import Element

import pytest
from shapely import LineString, Point, box, unary_union
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from tests.drawing.test_prints import paper
from tests.making.plans import HARBOUR
from workbench.craft.contrast import contrast, luminance, ratio
from workbench.craft.surface import seen
from workbench.drawing.patterns import TILE, pattern
from workbench.drawing.prints import PRINTS
from workbench.drawing.tones import DARK, LIGHT, Tones, card_tones, paper_luminance, shares

WHITE, BLACK, GREY = "#ffffff", "#000000", "#808080"


def inked(name: str) -> float:
    """The share of the tile that its shapes cover."""
    tile = pattern(paper(name, BLACK, WHITE), 0)
    shapes = unary_union([_shape(element) for element in list(tile)[1:]])
    share: float = shapes.intersection(box(0, 0, TILE, TILE)).area / TILE**2
    return share


def _shape(element: Element) -> BaseGeometry:
    given = element.attrib
    if element.tag == "rect":
        x, y, width, height = (float(given[key]) for key in ("x", "y", "width", "height"))
        return box(x, y, x + width, y + height)
    if element.tag == "circle":
        return Point(float(given["cx"]), float(given["cy"])).buffer(float(given["r"]))
    lines = [LineString(points) for points in _lines(given["d"]) if len(points) > 1]
    shape = unary_union([line.buffer(0.225, cap_style="flat") for line in lines])
    moved = re.match(r"translate\((\S+) (\S+)\)", given.get("transform", ""))
    return translate(shape, *map(float, moved.groups())) if moved else shape


def _lines(path: str) -> Iterator[list[tuple[float, float]]]:
    """The lines of a path in the few commands our prints use; curves in short straight lines."""
    x, y, points = 0.0, 0.0, list[tuple[float, float]]()
    bend = end = (0.0, 0.0)
    for command, given in re.findall(r"([A-Za-z])([^A-Za-z]*)", path):
        numbers = [float(number) for number in re.findall(r"-?\d*\.?\d+", given)]
        sideways = {"h": (numbers[-1], 0.0), "v": (0.0, numbers[-1])}
        to_x, to_y = sideways.get(command) or (numbers[-2], numbers[-1])
        if command in "Mm":
            yield points
            points = []
        if command in "qt":  # "t" goes on as it came
            bend = (
                (end[0] - bend[0], end[1] - bend[1]) if command == "t" else (numbers[0], numbers[1])
            )
            end = (to_x, to_y)
            for t in (step / 16 for step in range(1, 16)):
                pulls = [2 * t * (1 - t) * bend[axis] + t * t * end[axis] for axis in (0, 1)]
                points.append((x + pulls[0], y + pulls[1]))
        if command == "a":  # half a circle, from left to right
            radius = numbers[0]
            for turn in (math.pi * step / 32 for step in range(1, 32)):
                points.append((x + radius - radius * math.cos(turn), y - radius * math.sin(turn)))
        x, y = (to_x, to_y) if command in "ML" else (x + to_x, y + to_y)
        points.append((x, y))
    yield points


@pytest.mark.parametrize("name", [*PRINTS, "gulls", "waves", "old wheat"])
def test_shares_are_those_of_the_printed_tile(name: str) -> None:
    found = dict(shares(paper(name, BLACK, WHITE)))
    assert sum(found.values()) == pytest.approx(1)
    known = 0.01 if name in PRINTS else 0.06  # a print known by name: about as much as others
    assert found.get(BLACK, 0) == pytest.approx(inked(name) if name != "solid" else 0, abs=known)


def test_a_print_is_as_light_as_its_colours_together() -> None:
    """Half black and half white reflect half the light (memory: luminance adds up)."""
    assert paper_luminance(paper("stripe", BLACK, WHITE)) == pytest.approx(0.5)
    assert paper_luminance(paper("solid", GREY)) == pytest.approx(luminance(GREY))
    black, white = (paper("solid", colour) for colour in (BLACK, WHITE))
    assert ratio(paper_luminance(black), paper_luminance(white)) == pytest.approx(21)
    assert contrast(BLACK, WHITE) == pytest.approx(21)


@pytest.mark.parametrize(("bound", "lightness"), [(DARK, 40), (LIGHT, 70)])
def test_the_bounds_of_light_and_dark(bound: float, lightness: int) -> None:
    """CIE 15: L* = 116 (Y / Yn)^(1/3) - 16."""
    assert 116 * bound ** (1 / 3) - 16 == pytest.approx(lightness, abs=0.05)


def test_a_card_is_as_light_as_what_is_seen_of_it() -> None:
    """A white base with a panel on half of it."""
    front = HARBOUR.card.size
    size = replace(front, height=front.height / 2)
    half = replace(HARBOUR.pieces[0], rounding=None, size=size)
    fog = replace(HARBOUR.papers[0], print="solid", colours=(WHITE,))
    net = replace(HARBOUR.papers[1], print="solid", colours=(BLACK,))
    gull = replace(HARBOUR.papers[2], print="stripe", colours=(BLACK, GREY))
    project = replace(HARBOUR, pieces=(half,), papers=(fog, net, gull))
    layers = seen(project)
    assert card_tones(project, layers, {half.name: net.name}) == pytest.approx((0.5, 0, 0.5))
    assert card_tones(project, layers, {half.name: gull.name}) == pytest.approx((0.5, 0.25, 0.25))
    assert card_tones(project, layers, {}) == Tones(1, 0, 0)
