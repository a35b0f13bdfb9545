"""What is written on the picture of a sheet: words in its parts, badges on its cuts."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple
from xml.etree.ElementTree import Element, SubElement

from workbench.drawing.lettering import BOLD, text_width
from workbench.drawing.page_box import Box, rectangle
from workbench.drawing.svg_elements import INK, PAPER, add_words
from workbench.drawing.svg_elements import number as _n

_BADGE = 2.4
_MARK = 2.6
_LINE, _LETTER = 1.2, 0.8
_RADIUS = 1.8
_PAD = 0.8

Ends = tuple[float, float, float, float]
Line = tuple[str, float, int, str]
"""Words, how tall they are in millimetres, their weight and their ink."""


@dataclass(frozen=True)
class Words:
    """Lines of words in the middle of a part; `turned` they read upwards."""

    box: Box
    room: Box
    lines: Sequence[Line]
    turned: bool

    @classmethod
    def centred(cls, room: Box, lines: Sequence[Line], *, turned: bool) -> "Words":
        """These lines in the middle of `room`."""
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
        """Whether there is room for them."""
        return self.box.grown(0.4).within(self.room)

    def draw(self, root: Element) -> None:
        """Add it to `root`."""
        x, y = (self.box.left + self.box.right) / 2, (self.box.top + self.box.bottom) / 2
        group = SubElement(root, "g", {"data-words": self.box.in_words})
        if self.turned:
            group.set("transform", f"rotate(-90 {_n(x)} {_n(y)})")
        at = y - sum(size * _LINE for _, size, _, _ in self.lines) / 2
        for words, size, weight, ink in self.lines:
            add_words(group, words, x, at + size * 0.95, size, ink=ink, weight=weight)
            at += size * _LINE


@dataclass(frozen=True)
class Badge:
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
        return self._disc * 2 + (text_width(self.mark, _MARK, BOLD) + 1.4 if self.mark else 0)

    @property
    def box(self) -> Box:
        """What it covers."""
        along, across = self.length / 2, self._radius
        width, height = (across, along) if self.upright else (along, across)
        return Box(self.x - width, self.y - height, self.x + width, self.y + height)

    def draw(self, root: Element) -> None:
        """Add it to `root`."""
        group = SubElement(root, "g", {"data-badge": self.box.in_words})
        if self.upright and self.mark:
            group.set("transform", f"rotate(-90 {_n(self.x)} {_n(self.y)})")
        left, disc, radius = self.x - self.length / 2, self._disc, self._radius
        top, bottom = self.y - radius, self.y + radius
        if self.mark:
            beside = Box(left + disc, top, self.x + self.length / 2, bottom)
            rectangle(group, beside, {"fill": PAPER})
            at = left + disc * 2 + 0.6
            add_words(group, self.mark, at, self.y + 0.9, _MARK, weight=BOLD, anchor="start")
        ground, ink = (INK, PAPER) if self.mark else (PAPER, INK)
        look = {"fill": ground, "stroke": INK, "stroke-width": "0.25", "rx": _n(radius)}
        rectangle(group, Box(left, top, left + disc * 2, bottom), look)
        size = _BADGE * self.share
        add_words(group, self.number, left + disc, self.y + size * 0.35, size, ink=ink, weight=BOLD)


_PLACES = (0.5, 0.25, 0.75, 0.35, 0.65, 0.12, 0.88, 0, 1)


def _along(badge: Badge, ends: Ends) -> Iterator[Badge]:
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


class BadgedCut(NamedTuple):
    """A cut as it is drawn: what its badge says, and its two ends, x and y of each."""

    number: str
    mark: str
    ends: Ends
    upright: bool

    @property
    def run(self) -> float:
        """How long it is drawn."""
        return _run_of(self.ends)

    @property
    def box(self) -> Box:
        """The line it is drawn as."""
        x1, y1, x2, y2 = self.ends
        return Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))

    def badges(self) -> Iterator[Badge]:
        """Number and mark along the cut, in the middle if may be; else the number alone."""
        for mark, size in ((self.mark, 1.0), ("", 1.0), ("", 0.75)):
            yield from _along(Badge(self.number, mark, size, 0, 0, self.upright), self.ends)


def badges_on(cuts: Sequence[BadgedCut], words: Iterable[Box]) -> tuple[list[Badge], list[Box]]:
    """A badge for each cut, the shortest cuts first; and where they could not keep clear.

    They keep clear of the boxes of `words`, of one another and of the other cuts, in this order.
    """
    taken = list(words)
    badges: list[Badge] = []
    crossed: list[Box] = []
    lines = {cut: cut.box.grown(0.01) for cut in cuts}
    for cut in sorted(cuts, key=lambda cut: cut.run):
        others = [line for other, line in lines.items() if other != cut]
        candidates = list(cut.badges())
        free = [badge for badge in candidates if not any(badge.box.meets(box) for box in taken)]
        clear = (
            badge for badge in free if not any(badge.box.grown(-0.3).meets(line) for line in others)
        )
        chosen = next(clear, None) or (free or candidates)[-1]
        if not free:
            crossed.append(chosen.box)
        taken.append(chosen.box)
        badges.append(chosen)
    return badges, crossed


def _run_of(ends: Ends) -> float:
    x1, y1, x2, y2 = ends
    return abs(x2 - x1) + abs(y2 - y1)
