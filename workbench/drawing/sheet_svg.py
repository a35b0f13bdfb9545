"""A sheet as SVG, true to scale: its parts, and every cut with its number and its mark."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.craft.direction import Direction
from workbench.craft.paper import Run, Size
from workbench.drawing.lettering import BOLD, REGULAR, text_width
from workbench.drawing.page_box import Box, hatching, rectangle
from workbench.drawing.sheet_lettering import Badge, BadgedCut, Ends, Line, Words, badges_on
from workbench.drawing.svg_elements import GREY, INK, PALE, PAPER, add_words, page
from workbench.drawing.svg_elements import number as _n
from workbench.drawing.two_units import TwoUnits
from workbench.measure.length import ZERO, Length
from workbench.planning import Part, Rectangle, Sheet

_LEFT, _BELOW, _ABOVE, _RIGHT = 7.0, 7.0, 4.5, 1.0
_NAME, _SIZE, _SMALL, _TINY = 2.7, 2.6, 2.3, 2.0
_FRAME = 0.8
_RUNS: dict[Run, str] = {"none": "", "up": "print up ↑", "along": "print runs ↑↓"}


@dataclass(frozen=True, slots=True)
class CutLine:
    """A cut: what its badge says, what it goes through, and where along `measure`."""

    number: str
    through: Rectangle
    measure: Direction
    mark: Length


def page_size(size: Size, scale: Fraction) -> tuple[float, float]:
    """Width and height in millimetres of the picture of a sheet drawn at `scale`."""
    return (
        float(size.width.mm * scale) + _LEFT + _RIGHT,
        float(size.height.mm * scale) + _ABOVE + _BELOW,
    )


def sheet_svg(
    sheet: Sheet,
    cuts: Sequence[CutLine],
    keys: Mapping[str, str],
    units: TwoUnits,
    *,
    scale: Fraction = Fraction(1),
    run: Run = "none",
    title: str = "",
) -> str:
    """An SVG document of `sheet` at `scale`, in millimetres of the page, black on white.

    `keys` gives the letter that stands for each piece. Each part has its name and size where there
    is room, else its letter; each of `cuts` has its badge and mark upon it. No two overlap where
    that can be helped.
    """
    drawing = _Drawing(sheet, keys, units, scale)
    return tostring(drawing.draw(cuts, run, title), encoding="unicode")


class _Drawing:
    def __init__(
        self, sheet: Sheet, keys: Mapping[str, str], units: TwoUnits, scale: Fraction
    ) -> None:
        self.sheet = sheet
        self.keys = keys
        self.units = units
        self.scale = scale
        self.whole = self._box(ZERO, ZERO, sheet.size)

    def draw(self, cuts: Sequence[CutLine], run: Run, title: str) -> Element:
        root = page(*page_size(self.sheet.size, self.scale))
        root.set("data-scale", str(self.scale))
        if title:
            SubElement(root, "title").text = title
        for part in self.sheet.parts:
            self._ground(root, part)
        for part in self.sheet.parts:
            self._frame(root, part)
        for cut in cuts:
            self._line(root, *self._ends(cut))
        rectangle(root, self.whole, {"fill": "none", "stroke": INK, "stroke-width": "0.5"})
        self._letter(root, cuts)
        self._dimensions(root, run)
        return root

    def _box(self, x: Length, y: Length, size: Size) -> Box:
        """Lengths from the sheet's bottom left as places on the page."""
        left = _LEFT + float(x.mm * self.scale)
        bottom = _ABOVE + float((self.sheet.height - y).mm * self.scale)
        return Box(
            left,
            bottom - float(size.height.mm * self.scale),
            left + float(size.width.mm * self.scale),
            bottom,
        )

    def _part_box(self, part: Part) -> Box:
        return self._box(part.x, part.y, Size(part.width, part.height))

    def _room(self, part: Part) -> Box:
        """What the words of a part have to themselves: of an offcut, what its own frame holds."""
        return self._part_box(part).grown(-_FRAME if part.role == "offcut" else 0)

    # Parts

    def _ground(self, root: Element, part: Part) -> None:
        box = self._part_box(part)
        rectangle(root, box, {"fill": PAPER, "data-part": part.role})
        if part.role == "scrap":
            look = {"stroke": PALE, "stroke-width": "0.2"}
            for line in hatching(box):
                SubElement(root, "path", {"d": line, **look})

    def _frame(self, root: Element, part: Part) -> None:
        look = {"fill": "none", "stroke": GREY, "stroke-width": "0.2"}
        if part.role == "offcut":
            look |= {"stroke-dasharray": "1 0.8"}
            rectangle(root, self._room(part), look)
        elif part.role == "piece":
            rectangle(root, self._part_box(part), {**look, "data-piece": part.piece or ""})

    def _letter(self, root: Element, cuts: Sequence[CutLine]) -> None:
        """Words in every part, then a badge on every cut; fewer words where they would meet."""
        words = {place: self._words(part) for place, part in enumerate(self.sheet.parts)}
        drawn = [self._badged(cut) for cut in cuts]
        best: tuple[int, list[Words], list[Badge]] | None = None
        for _ in range(8):
            shown = [fitting[0] for fitting in words.values() if fitting]
            badges, crossed = badges_on(drawn, [each.box for each in shown])
            if best is None or len(crossed) < best[0]:
                best = len(crossed), shown, badges
            if not crossed:
                break
            for place, fitting in words.items():
                box = self._part_box(self.sheet.parts[place])
                near = any(each.grown(0.1).meets(box) for each in crossed)
                if near and len(fitting) > 1:
                    words[place] = fitting[1:]
        if best:
            for each in best[1]:
                each.draw(root)
            for badge in best[2]:
                badge.draw(root)

    def _words(self, part: Part) -> list[Words]:
        """All that could be said in a part, the most first; what does not fit is left out."""
        if part.role == "scrap":
            return []
        size = Size(part.width, part.height)
        size = size.turned if part.turned else size
        name = "keep" if part.role == "offcut" else (part.piece or "")
        key = self.keys.get(part.piece or "", "")
        headed = f"{key}  {name}".strip()
        sideways = [(" sideways", _SMALL, REGULAR, GREY)] if part.turned else []
        lead = (self.units.lead_size(size), _SIZE, REGULAR, INK)
        other = (self.units.other_size(size), _SMALL, REGULAR, GREY)
        head = (headed, _NAME, BOLD, INK)
        choices: list[list[Line]] = [
            [head, lead, other, *sideways],
            [head, lead, other],
            [head, lead],
            [(f"{headed}  {lead[0]}", _SIZE, BOLD, INK)],
            [(f"{key}  {lead[0]}".strip(), _SIZE, BOLD, INK)],
            [(headed, _NAME, BOLD, INK)],
            [(key or name, _NAME, BOLD, INK)],
            [(key or name[:1], _TINY, BOLD, INK)],
        ]
        box = self._room(part)
        found = []
        for lines in choices:
            for turned in (False, True):
                words = Words.centred(box, lines, turned=turned)
                if words.fits:
                    found.append(words)
                    break
        return found

    # Cuts

    def _ends(self, cut: CutLine) -> Ends:
        box = self._box(cut.through.x, cut.through.y, cut.through.size)
        if cut.measure is Direction.WIDTH:
            x = box.left + float(cut.mark.mm * self.scale)
            return x, box.bottom, x, box.top
        y = box.bottom - float(cut.mark.mm * self.scale)
        return box.left, y, box.right, y

    def _line(self, root: Element, x1: float, y1: float, x2: float, y2: float) -> None:
        look = {"stroke": INK, "stroke-width": "0.4", "data-cut": ""}
        SubElement(root, "path", {"d": f"M{_n(x1)} {_n(y1)} L{_n(x2)} {_n(y2)}", **look})

    def _badged(self, cut: CutLine) -> BadgedCut:
        upright = cut.measure is Direction.WIDTH
        return BadgedCut(cut.number, self.units.lead(cut.mark), self._ends(cut), upright)

    # Around the sheet

    def _dimensions(self, root: Element, run: Run) -> None:
        """The sheet's own sides, and which way its print runs."""
        whole = self.whole
        below = whole.bottom + 2.2
        beside = whole.left - 2.2
        look = {"stroke": GREY, "stroke-width": "0.2", "fill": "none"}
        for path in (
            f"M{_n(whole.left)} {_n(below)} H{_n(whole.right)}",
            f"M{_n(whole.left)} {_n(below - 1)} v2 M{_n(whole.right)} {_n(below - 1)} v2",
            f"M{_n(beside)} {_n(whole.top)} V{_n(whole.bottom)}",
            f"M{_n(beside - 1)} {_n(whole.top)} h2 M{_n(beside - 1)} {_n(whole.bottom)} h2",
        ):
            SubElement(root, "path", {"d": path, **look})
        middle_x, middle_y = (whole.left + whole.right) / 2, (whole.top + whole.bottom) / 2
        across = self._side_words(self.sheet.width, whole.right - whole.left + 2 * _RIGHT)
        add_words(root, across, middle_x, below + 3.4, _SMALL, ink=GREY)
        add_words(
            root,
            self._side_words(self.sheet.height, whole.bottom - whole.top + 2 * _ABOVE),
            beside - 1.6,
            middle_y,
            _SMALL,
            ink=GREY,
            upwards=True,
        )
        if _RUNS[run]:
            add_words(
                root, _RUNS[run], whole.right, whole.top - 1.2, _SMALL, ink=GREY, anchor="end"
            )

    def _side_words(self, side: Length, room: float) -> str:
        """A side of the sheet in both units, or in as many as there is room for."""
        tries = (self.units.both(side), self.units.lead(side))
        return next((words for words in tries if text_width(words, _SMALL) <= room), "")
