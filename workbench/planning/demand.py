"""What a project asks of its paper, in whole numbers and in groups that can be planned apart."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import BASE
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length


@dataclass(frozen=True, slots=True)
class Item:
    """A rectangle to be cut from any of `papers`; sizes in the demand's units.

    At least `least` and at most `copies` are cut: none need be of a piece wanted if it fits.

    `dealt`: it is mixed over several papers, so that the rule of no print twice binds it.
    """

    name: str
    width: int
    height: int
    least: int
    copies: int
    papers: tuple[str, ...]
    needed: bool
    dealt: bool


@dataclass(frozen=True, slots=True)
class Source:
    """Like rectangles of one paper to cut from: its whole sheets, or its offcuts of one size.

    `cost`: 1 where using one counts against the plan, 0 where it is free to use.
    """

    width: int
    height: int
    available: int
    offcut: bool
    cost: int


@dataclass(frozen=True, slots=True)
class Supply:
    """One paper: the whole sheet first, then its offcuts.

    `dealt_limit` caps the dealt pieces cut from it: Koenig's line-colouring theorem allows no
    print more than the number of cards, and none where the print is on every card already.
    """

    paper: str
    turns: bool
    sources: tuple[Source, ...]
    dealt_limit: int | None

    @property
    def sheet(self) -> Source:
        return self.sources[0]


@dataclass(frozen=True, slots=True)
class Group:
    """Items and the papers they share; no item of another group is cut from these papers."""

    items: tuple[Item, ...]
    supplies: tuple[Supply, ...]
    cards: int

    def eligible(self, supply: Supply) -> tuple[int, ...]:
        """The indices of the items that may be cut from `supply`."""
        return tuple(i for i, item in enumerate(self.items) if supply.paper in item.papers)

    def limited(self, supply: Supply) -> list[tuple[int, ...]]:
        """Sets of items that `supply.dealt_limit` caps, each in all.

        The dealt ones; and, with them, each wanted one that could show the print as well.
        """
        if supply.dealt_limit is None:
            return []
        eligible = self.eligible(supply)
        dealt = tuple(i for i in eligible if self.items[i].dealt)
        wanted = [i for i in eligible if not (self.items[i].dealt or self.items[i].needed)]
        return [dealt, *((*dealt, i) for i in wanted)] if dealt else []


@dataclass(frozen=True, slots=True)
class Demand:
    """The whole batch. One millimetre is `scale` units, so that every length is whole."""

    scale: int
    groups: tuple[Group, ...]

    def length(self, units: int) -> Length:
        return Length(Fraction(units, self.scale))


def demand_of(project: Project, cards: int | None = None) -> Demand:
    """What `cards` cards (the project's own count if not given) ask for."""
    count = project.card.count if cards is None else cards
    scale = math.lcm(*(length.mm.denominator for length in _lengths(project)))
    items = _items(project, count, scale)
    groups = []
    for papers in _connected(items):
        groups.append(
            Group(
                tuple(item for item in items if item.papers[0] in papers),
                tuple(
                    _supply(project, paper, count, scale)
                    for paper in project.papers
                    if paper.name in papers
                ),
                count,
            )
        )
    return Demand(scale, tuple(groups))


def _lengths(project: Project) -> Iterable[Length]:
    sizes: list[Size] = [project.card.base_size]
    sizes += [paper.size for paper in project.papers]
    sizes += [offcut.size for offcut in project.offcuts]
    sizes += [piece.size for piece in project.pieces]
    for size in sizes:
        yield size.width
        yield size.height


def _items(project: Project, count: int, scale: int) -> list[Item]:
    def item(
        name: str, size: Size, copies: int, papers: tuple[str, ...], *, needed: bool = True
    ) -> Item:
        width, height = int(size.width.mm * scale), int(size.height.mm * scale)
        least = copies if needed else 0
        return Item(name, width, height, least, copies, papers, needed, len(papers) > 1)

    base = item(BASE, project.card.base_size, count, (project.card.paper,))
    pieces = [
        item(piece.name, piece.size, count * piece.per_card, piece.papers, needed=piece.needed)
        for piece in project.pieces
    ]
    return [base, *pieces]


def _connected(items: list[Item]) -> list[set[str]]:
    """The papers in sets that no item straddles, in the order of the items."""
    sets: list[set[str]] = []
    for item in items:
        joined = set(item.papers)
        apart = []
        for papers in sets:
            if papers & joined:
                joined |= papers
            else:
                apart.append(papers)
        sets = [*apart, joined]
    order = {
        paper: i for i, paper in reversed(list(enumerate(p for it in items for p in it.papers)))
    }
    return sorted(sets, key=lambda papers: min(order[paper] for paper in papers))


def _supply(project: Project, paper: Paper, count: int, scale: int) -> Supply:
    def source(size: Size, available: int, *, offcut: bool) -> Source:
        return Source(
            int(size.width.mm * scale),
            int(size.height.mm * scale),
            available,
            offcut,
            cost=0 if offcut else 1,
        )

    offcuts = [
        source(offcut.size, offcut.count, offcut=True)
        for offcut in project.offcuts
        if offcut.paper == paper.name
    ]
    whole = source(paper.size, paper.sheets, offcut=False)
    return Supply(paper.name, paper.turns, (whole, *offcuts), _dealt_limit(project, paper, count))


def _dealt_limit(project: Project, paper: Paper, count: int) -> int | None:
    if not paper.shows_print:
        return None
    fixed = [project.card.paper]
    fixed += [piece.papers[0] for piece in project.pieces if not piece.mixed and piece.needed]
    return 0 if paper.name in fixed else count
