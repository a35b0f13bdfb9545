"""Guides of the samples, planned and typeset once for all tests; and what stands in a PDF."""

import io
import re
from collections.abc import Iterator
from functools import cache

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from tests.samples import NAMES, SAMPLES, plan_of, project_of
from workbench.making.plan_index import PlanIndex
from workbench.publish.pages import PageSize, pdf
from workbench.publish.recipe import Recipe
from workbench.publish.writer import make_recipe

__all__ = ["NAMES", "SAMPLES", "project_of"]

_SPACES = re.compile(r"\s+")


@cache
def index_of(name: str) -> PlanIndex:
    return PlanIndex(project_of(name), plan_of(name))


@cache
def recipe_of(name: str) -> Recipe:
    return make_recipe(index_of(name))


@cache
def reader_of(name: str, page: PageSize) -> PdfReader:
    return PdfReader(io.BytesIO(pdf(recipe_of(name), page)))


@cache
def pages_of(name: str, page: PageSize) -> tuple[str, ...]:
    """The words of each page of a guide, squeezed."""
    return tuple(squeezed(each.extract_text()) for each in reader_of(name, page).pages)


def text_of(reader: PdfReader) -> str:
    """All words of a document, squeezed."""
    return squeezed(" ".join(page.extract_text() for page in reader.pages))


def squeezed(text: str) -> str:
    """Without the spaces and the places to break words, which typesetting puts where it likes."""
    return _SPACES.sub("", text).replace("\u200b", "").replace("⁄", "/")


_Matrix = tuple[float, float, float, float, float, float]


def rectangles_in(page: PageObject) -> list[tuple[float, float]]:
    """Width and height, in points, of every closed path of four corners that a page draws."""
    return list(_rectangles(page))


def _rectangles(page: PageObject) -> Iterator[tuple[float, float]]:
    matrix: _Matrix = (1, 0, 0, 1, 0, 0)
    stack: list[_Matrix] = []
    points: list[tuple[float, float]] = []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        numbers = [float(each) for each in operands if isinstance(each, int | float)]
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            matrix = _times((a, b, c, d, e, f), matrix)
        elif operator == b"m":
            points = [(numbers[0], numbers[1])]
        elif operator == b"l":
            points.append((numbers[0], numbers[1]))
        elif operator == b"h" and len(points) in (4, 5):
            yield _span(points, matrix)


def _times(one: _Matrix, other: _Matrix) -> _Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + m,
    )


def _span(points: list[tuple[float, float]], matrix: _Matrix) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    seen = [(a * x + c * y + e, b * x + d * y + f) for x, y in points]
    across, up = zip(*seen, strict=True)
    return max(across) - min(across), max(up) - min(up)
