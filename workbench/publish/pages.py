"""The pages of a recipe, typeset: PDF, or a picture of each page."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Literal
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.drawing.lettering import font_folder, literal
from workbench.measure.length import Unit
from workbench.publish.recipe import Recipe

PageSize = Literal["Letter", "A4"]
PAGE_SIZES: tuple[PageSize, ...] = ("Letter", "A4")
_TYPST_NAMES = {"Letter": "us-letter", "A4": "a4"}
_TEMPLATE = Path(__file__).parent / "pages.typ"
_DOTS_PER_INCH = 144
_LONGEST_HEADER = 80


def usual_page(unit: Unit) -> PageSize:
    """The paper that a reader who measures in `unit` most likely prints on."""
    return "Letter" if unit == "in" else "A4"


def pdf(recipe: Recipe, page: PageSize) -> bytes:
    """The recipe as a tagged PDF document with bookmarks, by PDF/UA-1 (ISO 14289-1).

    Where a name holds a sign that no typeface has, which that standard forbids, it is tagged all
    the same, and does not claim to keep it.
    """
    import typst

    try:
        (document,) = _typeset(recipe, page, "pdf", standards=("ua-1",))
    except typst.TypstError:
        (document,) = _typeset(recipe, page, "pdf")
    return document


def page_pictures(recipe: Recipe, page: PageSize, fineness: int = _DOTS_PER_INCH) -> list[bytes]:
    """Each page of the recipe as a PNG picture, in order, `fineness` pixels to the inch."""
    return _typeset(recipe, page, "png", fineness)


def _typeset(
    recipe: Recipe,
    page: PageSize,
    form: Literal["pdf", "png"],
    fineness: int = _DOTS_PER_INCH,
    standards: Sequence[Literal["ua-1"]] = (),
) -> list[bytes]:
    import typst

    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
    compiler = typst.Compiler(
        str(_TEMPLATE),
        root=str(_TEMPLATE.parent),
        font_paths=fonts,
        sys_inputs={"recipe": json.dumps(_data(recipe)), "sheet": _TYPST_NAMES[page]},
    )
    made = compiler.compile(format=form, ppi=fineness, pdf_standards=list(standards))
    return made if isinstance(made, list) else [made or b""]


def _data(recipe: Recipe) -> object:
    title = recipe.title
    short = title if len(title) <= _LONGEST_HEADER else f"{title[: _LONGEST_HEADER - 1]}…"
    return _literal(asdict(recipe) | {"short_title": short, "picture_svg": _framed(recipe.picture)})


def _literal(value: object) -> object:
    """The data with every text in it as it can be shown."""
    if isinstance(value, str):
        return literal(value)
    if isinstance(value, dict):
        return {key: _literal(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_literal(each) for each in value]
    return value


def _framed(picture: str) -> str:
    """A data URI in a drawing, as the typesetter knows no such address."""
    if not picture:
        return ""
    root = Element("svg", xmlns="http://www.w3.org/2000/svg", viewBox="0 0 100 75")
    SubElement(root, "image", href=picture, width="100", height="75")
    return tostring(root, encoding="unicode")
