"""A sheet as SVG, true to scale: its parts, and every cut with its number and its mark."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple
from xml.etree.ElementTree import Element, SubElement, tostring

from workbench.craft.direction import Direction
from workbench.craft.paper import Run, Size
from workbench.drawing.lettering import BOLD, REGULAR, text_width
from workbench.drawing.svg_elements import GREY, INK, PALE, PAPER, add_words, page
from workbench.drawing.svg_elements import number as _n
from workbench.drawing.two_units import TwoUnits
from workbench.measure.length import ZERO, Length
from workbench.planning import Part, Rectangle, Sheet

_LEFT, _BELOW, _ABOVE, _RIGHT = 7.0, 7.0, 4.5, 1.0
_NAME, _SIZE, _SMALL, _TINY, _BADGE = 2.7, 2.6, 2.3, 2.0, 2.4
_LINE, _LETTER = 1.2, 0.8
_RADIUS = 1.8
_PAD = 0.8
_FRAME = 0.8
_HATCH = 2.0
_RUNS: dict[Run, str] = {"none": "", "up": "print up ↑", "along": "print runs ↑↓"}


@dataclass(frozen=True, slots=True)
class CutLine:
    """A cut: what its badge says, what it goes through, and where along `measure`."""

    number: str
    through: Rectangle
    measure: Direction
    mark: Length


class Box(NamedTuple):
    """A rectangle on the page, in millimetres from the top left."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: "Box") -> bool:
        """Whether this lies wholly in the other."""
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.top <= self.top
            and self.bottom <= other.bottom
        )


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
        _rectangle(root, self.whole, {"fill": "none", "stroke": INK, "stroke-width": "0.5"})
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
        return _grown(self._part_box(part), -_FRAME if part.role == "offcut" else 0)

    # Parts

    def _ground(self, root: Element, part: Part) -> None:
        box = self._part_box(part)
        _rectangle(root, box, {"fill": PAPER, "data-part": part.role})
        if part.role == "scrap":
            look = {"stroke": PALE, "stroke-width": "0.2"}
            for line in _hatching(box):
                SubElement(root, "path", {"d": line, **look})

    def _frame(self, root: Element, part: Part) -> None:
        look = {"fill": "none", "stroke": GREY, "stroke-width": "0.2"}
        if part.role == "offcut":
            look |= {"stroke-dasharray": "1 0.8"}
            _rectangle(root, self._room(part), look)
        elif part.role == "piece":
            _rectangle(root, self._part_box(part), {**look, "data-piece": part.piece or ""})

    def _letter(self, root: Element, cuts: Sequence[CutLine]) -> None:
        """Words in every part, then a badge on every cut; fewer words where they would meet."""
        words = {place: self._words(part) for place, part in enumerate(self.sheet.parts)}
        best: tuple[int, list[_Words], list[_Badge]] | None = None
        for _ in range(8):
            shown = [fitting[0] for fitting in words.values() if fitting]
            badges, crossed = self._badges(cuts, [each.box for each in shown])
            if best is None or len(crossed) < best[0]:
                best = len(crossed), shown, badges
            if not crossed:
                break
            for place, fitting in words.items():
                box = self._part_box(self.sheet.parts[place])
                near = any(_grown(each, 0.1).meets(box) for each in crossed)
                if near and len(fitting) > 1:
                    words[place] = fitting[1:]
        if best:
            for each in best[1]:
                each.draw(root)
            for badge in best[2]:
                badge.draw(root)

    def _words(self, part: Part) -> list["_Words"]:
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
        choices: list[list[tuple[str, float, int, str]]] = [
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
                words = _Words.centred(box, lines, turned=turned)
                if words.fits:
                    found.append(words)
                    break
        return found

    # Cuts

    def _ends(self, cut: CutLine) -> tuple[float, float, float, float]:
        box = self._box(cut.through.x, cut.through.y, cut.through.size)
        if cut.measure is Direction.WIDTH:
            x = box.left + float(cut.mark.mm * self.scale)
            return x, box.bottom, x, box.top
        y = box.bottom - float(cut.mark.mm * self.scale)
        return box.left, y, box.right, y

    def _line(self, root: Element, x1: float, y1: float, x2: float, y2: float) -> None:
        look = {"stroke": INK, "stroke-width": "0.4", "data-cut": ""}
        SubElement(root, "path", {"d": f"M{_n(x1)} {_n(y1)} L{_n(x2)} {_n(y2)}", **look})

    def _badges(
        self, cuts: Sequence[CutLine], words: Iterable[Box]
    ) -> tuple[list["_Badge"], list[Box]]:
        """A badge for each cut, the shortest cuts first; and where they could not keep clear."""
        taken = list(words)
        badges: list[_Badge] = []
        crossed: list[Box] = []
        lines = {cut: _box_of(self._ends(cut)) for cut in cuts}
        for cut in sorted(cuts, key=lambda cut: _run_of(self._ends(cut))):
            others = [_grown(line, 0.01) for other, line in lines.items() if other != cut]
            candidates = list(self._candidates(cut))
            free = [badge for badge in candidates if not any(badge.box.meets(box) for box in taken)]
            clear = (
                badge
                for badge in free
                if not any(_grown(badge.box, -0.3).meets(line) for line in others)
            )
            chosen = next(clear, None) or (free or candidates)[-1]
            if not free:
                crossed.append(chosen.box)
            taken.append(chosen.box)
            badges.append(chosen)
        return badges, crossed

    def _candidates(self, cut: CutLine) -> Iterator["_Badge"]:
        """Number and mark along the cut, in the middle if may be; else the number alone."""
        upright = cut.measure is Direction.WIDTH
        ends = self._ends(cut)
        for mark, size in ((self.units.lead(cut.mark), 1.0), ("", 1.0), ("", 0.75)):
            yield from _along(_Badge(cut.number, mark, size, 0, 0, upright), ends)

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


@dataclass(frozen=True)
class _Words:
    """Lines of words in the middle of a part; `turned` they read upwards."""

    box: Box
    room: Box
    lines: Sequence[tuple[str, float, int, str]]
    turned: bool

    @classmethod
    def centred(
        cls, room: Box, lines: Sequence[tuple[str, float, int, str]], *, turned: bool
    ) -> "_Words":
        across = max(text_width(words, size, weight) for words, size, weight, _ in lines)
        # A letter alone needs no room for what hangs below a line.
        leading = _LINE if len(lines) > 1 or len(lines[0][0]) > 1 else _LETTER
        up = sum(size * leading for _, size, _, _ in lines)
        width, height = (up, across) if turned else (across, up)
        x, y = (room.left + room.right) / 2, (room.top + room.bottom) / 2
        box = Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        return cls(box, room, lines, turned)

    @property
    def fits(self) -> bool:
        return _grown(self.box, 0.4).within(self.room)

    def draw(self, root: Element) -> None:
        x, y = (self.box.left + self.box.right) / 2, (self.box.top + self.box.bottom) / 2
        group = SubElement(root, "g", {"data-words": _box_words(self.box)})
        if self.turned:
            group.set("transform", f"rotate(-90 {_n(x)} {_n(y)})")
        at = y - sum(size * _LINE for _, size, _, _ in self.lines) / 2
        for words, size, weight, ink in self.lines:
            add_words(group, words, x, at + size * 0.95, size, ink=ink, weight=weight)
            at += size * _LINE


@dataclass(frozen=True)
class _Badge:
    """A number in a disc, its mark beside it on white, at a place on a cut."""

    number: str
    mark: str
    share: float
    x: float
    y: float
    upright: bool

    @property
    def _radius(self) -> float:
        return _RADIUS * self.share

    @property
    def _disc(self) -> float:
        """Half the width of what bears the number."""
        return max(self._radius, text_width(self.number, _BADGE * self.share, BOLD) / 2 + 0.6)

    @property
    def length(self) -> float:
        """How far it runs along its cut."""
        return self._disc * 2 + (text_width(self.mark, _SIZE, BOLD) + 1.4 if self.mark else 0)

    @property
    def box(self) -> Box:
        along, across = self.length / 2, self._radius
        width, height = (across, along) if self.upright else (along, across)
        return Box(self.x - width, self.y - height, self.x + width, self.y + height)

    def draw(self, root: Element) -> None:
        group = SubElement(root, "g", {"data-badge": _box_words(self.box)})
        if self.upright and self.mark:
            group.set("transform", f"rotate(-90 {_n(self.x)} {_n(self.y)})")
        left, disc, radius = self.x - self.length / 2, self._disc, self._radius
        top, bottom = self.y - radius, self.y + radius
        if self.mark:
            beside = Box(left + disc, top, self.x + self.length / 2, bottom)
            _rectangle(group, beside, {"fill": PAPER})
            at = left + disc * 2 + 0.6
            add_words(group, self.mark, at, self.y + 0.9, _SIZE, weight=BOLD, anchor="start")
        ground, ink = (INK, PAPER) if self.mark else (PAPER, INK)
        look = {"fill": ground, "stroke": INK, "stroke-width": "0.25", "rx": _n(radius)}
        _rectangle(group, Box(left, top, left + disc * 2, bottom), look)
        size = _BADGE * self.share
        add_words(group, self.number, left + disc, self.y + size * 0.35, size, ink=ink, weight=BOLD)


_PLACES = (0.5, 0.25, 0.75, 0.35, 0.65, 0.12, 0.88, 0, 1)


def _along(badge: _Badge, ends: tuple[float, float, float, float]) -> Iterator[_Badge]:
    """The badge at several places of the cut, wholly on it; one with a mark only if it fits."""
    x1, y1, x2, y2 = ends
    run = _run_of(ends)
    slack = run - badge.length - 2 * _PAD
    if slack < 0 and badge.mark:
        return
    places = _PLACES if slack > 0 else (0.5,)
    for place in places:
        share = 0.5 + max(slack, 0) * (place - 0.5) / run
        yield replace(badge, x=x1 + (x2 - x1) * share, y=y1 + (y2 - y1) * share)


def _box_of(ends: tuple[float, float, float, float]) -> Box:
    x1, y1, x2, y2 = ends
    return Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def _run_of(ends: tuple[float, float, float, float]) -> float:
    x1, y1, x2, y2 = ends
    return abs(x2 - x1) + abs(y2 - y1)


def _grown(box: Box, by: float) -> Box:
    return Box(box.left - by, box.top - by, box.right + by, box.bottom + by)


def _hatching(box: Box) -> Iterator[str]:
    """Slanting lines that fill a box."""
    width, height = box.right - box.left, box.bottom - box.top
    reach = _HATCH
    while reach < width + height:
        start = (box.left + min(reach, width), box.top + max(0.0, reach - width))
        end = (box.left + max(0.0, reach - height), box.top + min(reach, height))
        yield f"M{_n(start[0])} {_n(start[1])} L{_n(end[0])} {_n(end[1])}"
        reach += _HATCH


def _rectangle(root: Element, box: Box, look: Mapping[str, str]) -> None:
    SubElement(
        root,
        "rect",
        {
            "x": _n(box.left),
            "y": _n(box.top),
            "width": _n(box.right - box.left),
            "height": _n(box.bottom - box.top),
            **look,
        },
    )


def _box_words(box: Box) -> str:
    return " ".join(map(_n, box))
