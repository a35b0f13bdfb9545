"""All cards of a batch in one picture, as they lie side by side on a table."""

from math import ceil, sqrt
from xml.etree.ElementTree import SubElement, tostring

from workbench.drawing.lettering import BOLD, font_folder
from workbench.drawing.svg import card_svg
from workbench.drawing.svg_elements import GREY, add_words, number, page, parsed
from workbench.making.plan_index import PlanIndex

_GAP, _LABEL, _SIZE = 8.0, 6.0, 4.2
# The longest side of a picture in pixels, and no finer than this in pixels a millimetre.
_MOST_PIXELS, _FINEST = 2400, 4.0


def cards_svg(index: PlanIndex) -> str:
    """Every card with its number, at its true size, in rows about as wide as they are high."""
    project, cards = index.project, index.plan.combinations
    front = project.card.size
    width, height = float(front.width.mm), float(front.height.mm)
    across = max(1, min(len(cards), ceil(sqrt(len(cards) * (height + _GAP) / (width + _GAP)))))
    rows = ceil(len(cards) / across)
    root = page(across * (width + _GAP) + _GAP, rows * (height + _GAP + _LABEL) + _GAP)
    SubElement(root, "title").text = project.title
    SubElement(root, "rect", width="100%", height="100%", fill="#ffffff")
    drawn: dict[tuple[tuple[str, str], ...], str] = {}
    for place, card in enumerate(cards):
        row, column = divmod(place, across)
        left = _GAP + column * (width + _GAP)
        top = _GAP + row * (height + _GAP + _LABEL)
        look = tuple(card.pieces.items())
        if look not in drawn:
            # Cards alike are drawn once and shown again by name.
            drawn[look] = f"look-{len(drawn)}"
            symbol = parsed(card_svg(project, card.pieces, edged=True))
            symbol.tag = "symbol"
            symbol.set("id", drawn[look])
            for side in ("width", "height"):
                del symbol.attrib[side]
            SubElement(root, "defs").append(symbol)
        at = {"x": number(left), "y": number(top)}
        size = {"width": number(width), "height": number(height)}
        SubElement(root, "use", {"href": f"#{drawn[look]}", **at, **size})
        add_words(
            root,
            str(card.card),
            left + width / 2,
            top + height + _SIZE,
            _SIZE,
            ink=GREY,
            weight=BOLD,
        )
    return tostring(root, encoding="unicode")


def cards_png(index: PlanIndex) -> bytes:
    """The same as a PNG picture."""
    import typst

    svg = cards_svg(index)
    width, height = (float(side) for side in svg.split('viewBox="0 0 ', 1)[1].split('"')[0].split())
    # A page as large as the picture: the longest side has the most pixels there may be.
    fineness = min(_FINEST, _MOST_PIXELS / max(width, height))
    compiler = typst.Compiler(
        b"#set page(width: float(sys.inputs.width) * 1mm, height: auto, margin: 0pt)\n"
        b'#image(bytes(sys.inputs.svg), format: "svg", width: 100%)',
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())]),
        sys_inputs={"svg": svg, "width": number(width)},
    )
    made = compiler.compile(format="png", ppi=fineness * 25.4)
    assert isinstance(made, bytes)
    return made
