"""The typeset guide of every sample: its boxes, words, bookmarks, pictures and their scale."""

from fractions import Fraction
from typing import Any

import pytest

from tests.publish.guides import (
    NAMES,
    index_of,
    pages_of,
    reader_of,
    recipe_of,
    rectangles_in,
    squeezed,
)
from workbench.drawing.two_units import TwoUnits
from workbench.publish.pages import PAGE_SIZES, PageSize, page_pictures

POINT = Fraction(254, 720)  # millimetres: 1/72 in (ISO 32000-1, 8.3.2.3)
# ASME Y14.1 size A, and ISO 216 A4, in millimetres.
BOXES = {"Letter": (215.9, 279.4), "A4": (210.0, 297.0)}
MOST_PAGES = 40


@pytest.mark.parametrize("page", PAGE_SIZES)
@pytest.mark.parametrize("name", NAMES)
def test_pages_are_as_large_as_the_standards_say(name: str, page: PageSize) -> None:
    reader = reader_of(name, page)
    assert 1 <= len(reader.pages) <= MOST_PAGES
    for each in reader.pages:
        sides = (float(each.mediabox.width * POINT), float(each.mediabox.height * POINT))
        assert sides == pytest.approx(BOXES[page], abs=0.1)


@pytest.mark.parametrize("page", PAGE_SIZES)
@pytest.mark.parametrize("name", NAMES)
def test_every_mark_and_every_size_stands_there_in_both_units(name: str, page: PageSize) -> None:
    index, text = index_of(name), "".join(pages_of(name, page))
    units = TwoUnits(index.project.units)
    for step in index.plan.cuts:
        assert squeezed(units.lead(step.mark) + units.other(step.mark)) in text
    for size in (index.project.card.base_size, *(piece.size for piece in index.project.pieces)):
        assert squeezed(units.lead_size(size)) in text
        assert squeezed(units.other_size(size)) in text


@pytest.mark.parametrize("name", NAMES)
def test_every_cut_has_its_number_in_the_table_and_on_a_sheet(name: str) -> None:
    recipe = recipe_of(name)
    numbers = [row.number for setting in recipe.settings for row in setting.rows]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    drawn = " ".join(sheet.figure.svg for sheet in recipe.sheets)
    for number in numbers:
        assert f">{number}<" in drawn or f">{number}," in drawn or f", {number}" in drawn


@pytest.mark.parametrize("page", PAGE_SIZES)
@pytest.mark.parametrize("name", NAMES)
def test_sheets_are_drawn_to_scale(name: str, page: PageSize) -> None:
    """Within 0.1 mm of the page, measured from what the PDF draws."""
    index, recipe = index_of(name), recipe_of(name)
    drawn = [side for each in reader_of(name, page).pages for side in rectangles_in(each)]
    for sheets, row in zip(index.layouts, recipe.sheets, strict=True):
        scale = 1 / Fraction(row.figure.scale.removeprefix("1 : "))
        for width, height in ((sheets[0].width, sheets[0].height),):
            wanted = (float(width.mm * scale / POINT), float(height.mm * scale / POINT))
            near = float(Fraction(1, 10) / POINT)
            assert any(abs(w - wanted[0]) < near and abs(h - wanted[1]) < near for w, h in drawn)


@pytest.mark.parametrize("name", NAMES)
def test_a_reader_finds_the_way(name: str) -> None:
    """Bookmarks for every section, tags, a language, a title, and a name for each picture."""
    reader = reader_of(name, "A4")
    headings = [str(item["/Title"]) for item in reader.outline if not isinstance(item, list)]
    assert headings[:3] == ["What you need", "Take care", "The layers of one card"]
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"].startswith("en")
    # ISO 14289-1, 5: a document that keeps to PDF/UA-1 says so; Typst checks before it does.
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_object().get_data()
    assert reader.metadata is not None
    assert reader.metadata.title == recipe_of(name).title
    pages = pages_of(name, "A4")
    assert all(f"{number}/{len(pages)}" in words for number, words in enumerate(pages, 1))


def test_a_page_is_a_picture_of_its_own() -> None:
    pictures = page_pictures(recipe_of("one_card_from_scraps"), "Letter")
    assert len(pictures) == len(reader_of("one_card_from_scraps", "Letter").pages)
    assert all(picture.startswith(b"\x89PNG") for picture in pictures)
