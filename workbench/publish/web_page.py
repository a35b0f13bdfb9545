"""A recipe as one web page: no script, nothing loaded from elsewhere, good on a phone."""

from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.drawing.lettering import literal
from workbench.drawing.svg_elements import parsed
from workbench.publish.outline import Block, Grid, Pictures, Points, Words, sections
from workbench.publish.recipe import Figure, Recipe
from workbench.publish.text import tied

_STYLE = Path(__file__).parent / "page.css"


def web_page(recipe: Recipe) -> str:
    """The whole page as an HTML document. Names are text, whatever they hold."""
    html = Element("html", lang="en")
    head = SubElement(html, "head")
    SubElement(head, "meta", charset="utf-8")
    SubElement(head, "meta", name="viewport", content="width=device-width, initial-scale=1")
    # Nothing may be loaded or run, even were a name to slip through.
    policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    SubElement(head, "meta", {"http-equiv": "Content-Security-Policy", "content": policy})
    SubElement(head, "title").text = literal(recipe.title)
    SubElement(head, "style").text = _STYLE.read_text(encoding="utf-8")
    body = SubElement(html, "body")
    main = SubElement(body, "main")
    _said(main, "h1", recipe.title)
    _said(main, "p", " · ".join(recipe.facts), {"class": "facts"})
    if recipe.picture:
        SubElement(main, "img", src=recipe.picture, alt="The finished card")
    for section in sections(recipe):
        _said(main, f"h{section.depth}", section.heading)
        for block in section.blocks:
            main.extend(list(_block(block)))
    if recipe.foot:
        _said(SubElement(body, "footer"), "p", recipe.foot)
    text = tostring(html, encoding="unicode", method="html")
    return f"<!doctype html>\n{text}\n"


def _block(block: Block) -> Iterator[Element]:
    match block:
        case Words(text):
            paragraph = Element("p")
            paragraph.text = tied(literal(text))
            yield paragraph
        case Points(lines):
            points = Element("ul")
            for line in lines:
                _said(points, "li", line)
            yield points
        case Grid(columns, rows):
            yield _grid(columns, rows)
        case Pictures(figures):
            group = Element("div", {"class": "pictures"})
            for figure, words in figures:
                group.append(_picture(figure, words))
            yield group


def _grid(columns: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> Element:
    """A table whose cells say their column themselves, for where it is shown as a list."""
    table = Element("table")
    head = SubElement(SubElement(table, "thead"), "tr")
    for column in columns:
        _said(head, "th", column, {"scope": "col"})
    body = SubElement(table, "tbody")
    for row in rows:
        line = SubElement(body, "tr")
        for column, cell in zip(columns, row, strict=True):
            _said(line, "td", cell, {"data-column": column} if cell and column else {})
    return table


def _picture(figure: Figure, words: str) -> Element:
    shown = Element("figure", style=f"width: {figure.width:.1f}mm")
    picture = parsed(figure.svg)
    picture.set("aria-label", literal(figure.alt))
    # Its width is that of the figure, so that it shrinks with a narrow screen.
    for side in ("width", "height"):
        picture.attrib.pop(side, None)
    shown.append(picture)
    if words:
        _said(shown, "figcaption", words)
    return shown


def _said(parent: Element, tag: str, text: str, look: dict[str, str] | None = None) -> None:
    SubElement(parent, tag, look or {}).text = tied(literal(text))
