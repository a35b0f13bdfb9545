"""The card as SVG: what its paths enclose, against Shapely; and its prints."""

import re
from dataclasses import replace
from itertools import combinations
from xml.etree.ElementTree import Element, fromstring, tostring

import pytest
from hypothesis import given
from shapely import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from tests.craft.cards import FINENESS, cards, rounded_shape
from tests.making.plans import HARBOUR, inches
from workbench.craft.card import INSIDE, Place
from workbench.craft.geometry import placements
from workbench.craft.paper import Back, Paper, Size
from workbench.craft.project import Project
from workbench.drawing.patterns import pattern
from workbench.drawing.prints import PRINTS
from workbench.drawing.svg import card_svg

SVG = "{http://www.w3.org/2000/svg}"
STEP = re.compile(r"([MLA])([-0-9. ]+)")


def drawn(text: str) -> dict[str, Element]:
    """The layers of a picture by name."""
    paths = fromstring(text).iter(f"{SVG}path")
    return {path.attrib["data-layer"]: path for path in paths if "data-layer" in path.attrib}


def enclosed(path: str, height: float) -> BaseGeometry:
    """What a path of straight lines and quarter circles encloses, y upwards."""
    points: list[tuple[float, float]] = []
    discs: list[BaseGeometry] = []
    for step, numbers in STEP.findall(path):
        values = [float(number) for number in numbers.split()]
        end = (values[-2], height - values[-1])
        if step == "A":
            start = points[-1]
            # Clockwise on the page, so the middle lies to the right of the way from start to end.
            way = (end[0] - start[0], end[1] - start[1])
            middle = (
                (start[0] + end[0] + way[1]) / 2,
                (start[1] + end[1] - way[0]) / 2,
            )
            assert values[0] == values[1] == pytest.approx(abs(way[0]), abs=2e-4)
            quarter = box(*_bounds(start, end))
            discs.append(Point(middle).buffer(values[0], quad_segs=FINENESS).intersection(quarter))
        points.append(end)
    shape: BaseGeometry = Polygon(points)
    for disc in discs:
        shape = shape.union(disc)
    return shape


def _bounds(*points: tuple[float, float]) -> tuple[float, float, float, float]:
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)


@given(cards(rounded=True))
def test_every_layer_is_drawn_true_to_scale(project: Project) -> None:
    height = float(project.card.size.height.mm)
    for inside in (False, True):
        layers = drawn(card_svg(project, inside=inside))
        shown = [placed for placed in placements(project) if placed.inside == inside]
        assert list(layers) == ["card base", *(placed.piece.name for placed in shown)]
        for placed in shown:
            path = enclosed(layers[placed.piece.name].attrib["d"], height)
            wanted = rounded_shape(placed)
            # Coordinates are written to the nearest ten thousandth of a millimetre.
            assert path.symmetric_difference(wanted).area < 1e-4 * (wanted.length + 1)


def test_the_page_is_as_large_as_the_card() -> None:
    root = fromstring(card_svg(HARBOUR))
    assert root.attrib["viewBox"] == "0 0 101.6 127"
    assert (root.attrib["width"], root.attrib["height"]) == ("101.6mm", "127mm")


@pytest.mark.parametrize(
    ("fold", "inside", "path"),
    [
        ("top", False, "M0 0 L101.6 0"),
        ("side", False, "M0 0 L0 127"),
        ("side", True, "M101.6 0 L101.6 127"),
    ],
)
def test_the_fold_is_drawn_where_it_is(fold: str, inside: bool, path: str) -> None:
    paper = replace(HARBOUR.papers[0], size=Size(inches(12), inches(12)))
    project = replace(
        HARBOUR,
        papers=(paper, *HARBOUR.papers[1:]),
        card=replace(HARBOUR.card, fold=fold),  # type: ignore[arg-type]
    )
    folds = fromstring(card_svg(project, inside=inside)).findall(f"{SVG}path[@class='fold']")
    assert [fold.attrib["d"] for fold in folds] == [path]


def test_borders_are_dimensioned_on_demand_only() -> None:
    plain = fromstring(card_svg(HARBOUR))
    assert not list(plain.iter(f"{SVG}text"))
    measured = fromstring(card_svg(HARBOUR, measured="tide", unit="in"))
    words = [text.text for text in measured.iter(f"{SVG}text") if "class" not in text.attrib]
    assert words == ["7/8 in", "2 7/8 in"]  # flush with the panel's sides


def test_names_are_shown_literally() -> None:
    title = '<script>"&'
    text = card_svg(replace(HARBOUR, title=title))
    assert "<script>" not in text
    assert fromstring(text).findtext(f"{SVG}title") == title


def test_the_back_of_a_paper_has_a_pattern_of_its_own() -> None:
    net = replace(HARBOUR.papers[1], back=Back("net weave, back", "dot", ("#333333", "#eeeeee")))
    project = replace(HARBOUR, papers=(HARBOUR.papers[0], net, HARBOUR.papers[2]))
    layers = drawn(card_svg(project, {"panel": "net weave, back", "tide": "net weave"}))
    fills = [layers[name].attrib["fill"] for name in ("panel", "tide")]
    assert fills == ["url(#print-2)", "url(#print-1)"]


def test_a_piece_inside_is_drawn_on_the_inside_alone() -> None:
    panel, tide = HARBOUR.pieces
    project = replace(HARBOUR, pieces=(panel, replace(tide, on=INSIDE, place=Place())))
    assert list(drawn(card_svg(project))) == ["card base", "panel"]
    assert list(drawn(card_svg(project, inside=True))) == ["card base", "tide"]


def test_prints_differ_by_shape_alone() -> None:
    named = (*PRINTS, "herringbone", "gingham", "swallows")
    size = HARBOUR.papers[1].size
    papers = [
        Paper(name, "other", size, print=name, colours=("#000000", "#ffffff")) for name in named
    ]
    tiles = [tostring(pattern(paper, 0)) for paper in papers[1:]]
    assert all(one != other for one, other in combinations(tiles, 2))
