"""What our SVG drawings of a page are made of: inks, numbers, words, and drawings in drawings."""

from xml.etree.ElementTree import Element, SubElement, fromstring

from workbench.drawing.lettering import FAMILY, REGULAR, literal, text_width

INK, GREY, PALE, PAPER = "#1c1c1c", "#5c5c5c", "#b9b9b9", "#ffffff"


def number(value: float) -> str:
    """`value` in millimetres to four decimals, without zeros at its end."""
    return f"{value:.4f}".rstrip("0").rstrip(".") or "0"


def svg_root(width: str, height: str) -> Element:
    """The root of a drawing of that many millimetres."""
    return Element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width} {height}",
        width=f"{width}mm",
        height=f"{height}mm",
        role="img",
    )


def page(width: float, height: float) -> Element:
    """The root of a drawing, in millimetres, lettered in the typeface of the pages."""
    root = svg_root(number(width), number(height))
    root.set("font-family", f"'{FAMILY}', sans-serif")
    return root


def add_words(
    parent: Element,
    words: str,
    x: float,
    y: float,
    size: float,
    *,
    ink: str = INK,
    weight: int = REGULAR,
    anchor: str = "middle",
    upwards: bool = False,
) -> None:
    """Add one line of words on the base line at `y`; `upwards` it reads from below."""
    at = {"x": number(x), "y": number(y), "font-size": number(size), "fill": ink}
    look = {"text-anchor": anchor, "font-weight": str(weight)}
    if upwards:
        look["transform"] = f"rotate(-90 {number(x)} {number(y)})"
    shown = literal(words)
    # As wide as it was measured, in whatever typeface a browser has.
    run = {
        "textLength": number(text_width(shown, size, weight)),
        "lengthAdjust": "spacingAndGlyphs",
    }
    SubElement(parent, "text", at | look | run).text = shown


def parsed(svg: str) -> Element:
    """A drawing as elements without a namespace, to be put in another one or in a web page."""
    root = fromstring(svg)
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]
    return root
