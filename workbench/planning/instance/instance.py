"""The instance: what a project asks of its paper, in whole numbers.

Lengths are units of the instance: one millimetre is `Instance.scale` of them. Items that share
papers, directly or over others, form a subproblem; subproblems can be planned apart.
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from workbench.craft.card import BASE, Piece
from workbench.craft.direction import Direction
from workbench.craft.paper import Paper, Size, Strip
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length, Unit
from workbench.measure.writing import write_number
from workbench.planning.instance.trimmer_limits import TrimmerLimits, trimmer_limits
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.milp import Milp
from workbench.planning.mixing.assignment_rows import (
    DealingRules,
    DealtCap,
    UseCount,
    add_dealing_rows,
)
from workbench.planning.mixing.card_types import CardTypes, CutColumns, card_types
from workbench.planning.mixing.paper_limits import PaperLimit, paper_limits
from workbench.planning.mixing.use_counts import use_counts
from workbench.planning.progress import PlanningError
from workbench.planning.shape import HEIGHT, WIDTH, across, along

NARROWEST = Length.of(1, "mm")  # common practice, no source
MOST_RULES = 8  # a sheet's side in rules of its trimmer; common practice, no source


@dataclass(frozen=True, slots=True)
class Item:
    """A rectangle to be cut from any of `papers`; sizes in the demand's units.

    `id` tells it from every other item of the demand, even from one of the same `name`.

    At least `least` and at most `copies` are cut: none need be of a piece wanted if it fits.

    `dealt`: what it shows is left open, so that the rules of mixing bind it; a card has `alike`
    of it of one face. `spare` of its copies go on no card.
    """

    id: int
    name: str
    width: int
    height: int
    least: int
    copies: int
    papers: tuple[str, ...]
    needed: bool
    dealt: bool
    spare: int = 0
    alike: int = 1


@dataclass(frozen=True, slots=True)
class Margin:
    """A printed strip `width` wide, cut off in `direction`; `first`: at the left or the bottom."""

    direction: Direction
    width: int
    first: bool


@dataclass(frozen=True, slots=True)
class Source:
    """Like rectangles of one paper to cut from: its whole sheets, or its offcuts of one size.

    `cost`: 1 where using one counts against the plan, 0 where it is free to use. The sides are
    those left when the `margin` is off.
    """

    width: int
    height: int
    available: int
    offcut: bool
    cost: int
    margin: Margin | None = None

    @property
    def margin_mark(self) -> int | None:
        """Where the margin is cut off; one at the top or the right leaves the source measured.

        So the print stays upright.
        """
        if self.margin is None:
            return None
        kept = along((self.width, self.height), self.margin.direction)
        return self.margin.width if self.margin.first else kept

    def like(self, other: "Source") -> bool:
        """Whether both are the same, however many there are of either."""
        return replace(self, available=0) == replace(other, available=0)


@dataclass(frozen=True, slots=True)
class Supply:
    """One paper: the whole sheet first, then its offcuts; `limits` cap what is dealt of it."""

    paper: str
    turns: bool
    sources: tuple[Source, ...]
    limits: tuple[PaperLimit, ...] = ()

    @property
    def sheet(self) -> Source:
        """Its whole sheets."""
        return self.sources[0]


@dataclass(frozen=True)
class Subproblem:
    """Items and the papers they share; no item of another group is cut from these papers.

    Nor does a rule of the maker's tie it to another group; `card_types` hold what its own ask, and
    `counts` how much of its papers shall be used.
    """

    items: tuple[Item, ...]
    supplies: tuple[Supply, ...]
    cards: int
    trimmer: TrimmerLimits
    card_types: tuple[CardTypes, ...] = ()
    counts: tuple[UseCount, ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces are asked for, those cut if they fit among them."""
        return sum(item.copies for item in self.items)

    def eligible(self, supply: Supply) -> tuple[int, ...]:
        """The indices of the items that may be cut from `supply`."""
        return tuple(i for i, item in enumerate(self.items) if supply.paper in item.papers)

    def id_set(self, supply: Supply) -> frozenset[int]:
        """The ids of the items that may be cut from `supply`."""
        return frozenset(self.items[index].id for index in self.eligible(supply))

    @cached_property
    def by_id(self) -> dict[int, Item]:
        """Each item by its id."""
        return {item.id: item for item in self.items}

    @cached_property
    def told_apart(self) -> bool:
        """Whether it matters from which of several like papers a piece is cut."""
        alike = any(item.alike > 1 for item in self.items)
        limited = any(supply.limits for supply in self.supplies)
        return alike or limited or bool(self.card_types or self.counts)

    def wanted_of(self, paper: str) -> frozenset[tuple[frozenset[str], int, int | None]]:
        """What is asked of a paper's use: pieces, the least and the most of them all together."""
        return frozenset(
            (frozenset(piece for piece, _ in count.uses), count.least, count.most)
            for count in self.counts
            if any(paper == used for _, used in count.uses)
        )

    def dealing_rules(self) -> DealingRules:
        """What binds the pieces that are dealt to the cards."""
        caps = [
            DealtCap([(piece, supply.paper) for piece in sorted(limit.pieces)], limit.most)
            for supply in self.supplies
            for limit in supply.limits
        ]
        dealt = [item for item in self.items if item.dealt]
        return DealingRules(
            {item.name: item.spare for item in dealt},
            {item.name: item.alike for item in dealt},
            caps,
            self.counts,
            self.card_types,
        )

    def add_dealing_rows(self, program: Milp, cut: CutColumns) -> None:
        """Add the rows to `program` that make whatever is `cut` possible to deal."""
        add_dealing_rows(program, cut, self.dealing_rules())


@dataclass(frozen=True)
class Instance:
    """The whole batch. One millimetre is `scale` units, so that every length is whole."""

    scale: int
    trimmer: TrimmerLimits
    groups: tuple[Subproblem, ...]
    counts: tuple[UseCount, ...] = ()
    """How much of each paper shall be used, in all groups."""

    @cached_property
    def names(self) -> dict[int, str]:
        """The name of each item by its id."""
        return {item.id: item.name for group in self.groups for item in group.items}

    def length(self, units: int) -> Length:
        """So many units as a length."""
        return Length(Fraction(units, self.scale))


def instance_of(
    project: Project, trimmer: Trimmer, cards: int | None = None, limits: Limits = DEFAULT
) -> Instance:
    """What `cards` cards (the project's own count if not given) ask for.

    Raises PlanningError where the trimmer cannot cut something from any of its papers.
    """
    count = project.card.count if cards is None else cards
    check_sensible(project, count, limits.pieces)
    scale = math.lcm(*(length.mm.denominator for length in _lengths(project)))
    able = trimmer_limits(trimmer, scale)
    items = _items(project, count, scale)
    ruled = card_types(project, count, limits.card_types)
    counts = use_counts(project, count, ruled)
    links = [set(item.papers) for item in items]
    links += [
        {paper for item in items if item.name in mixture.pieces for paper in item.papers}
        for mixture in ruled
    ]
    groups = []
    for papers in _connected(links):
        mine = tuple(item for item in items if item.papers[0] in papers)
        names = {item.name for item in mine}
        groups.append(
            Subproblem(
                mine,
                tuple(
                    _supply(project, paper, count, scale, able)
                    for paper in project.papers
                    if paper.name in papers
                ),
                count,
                able,
                tuple(mixture for mixture in ruled if mixture.pieces & names),
                tuple(each for each in counts if any(paper in papers for _, paper in each.uses)),
            )
        )
        _check_laid(groups[-1], project, trimmer)
        _check_cuttable(groups[-1], trimmer, project.units)
    return Instance(scale, able, tuple(groups), counts)


def check_sensible(project: Project, cards: int, most: int) -> None:
    """Refuse what no hand could cut, before it is worked out."""
    sizes = [("The card", project.card.size)]
    sizes += [(f'"{piece.name}"', piece.size) for piece in project.pieces]
    for name, size in sizes:
        if min(size.width, size.height) < NARROWEST:
            raise PlanningError(
                f"{name} is less than {write_number(NARROWEST, 'mm')} mm wide or high, "
                "and no blade cuts so little. Make it larger."
            )
    pieces = cards * (1 + sum(piece.per_card for piece in project.pieces))
    if pieces > most:
        raise PlanningError(
            f"{cards} cards take {pieces} pieces, and no more than {most} are planned at "
            "once. Make fewer cards in a batch."
        )


def _check_laid(group: Subproblem, project: Project, trimmer: Trimmer) -> None:
    """Refuse sheets that no table beside this trimmer holds: their places would be too many."""
    longest = max(trimmer.cut_length, trimmer.rule_length) * MOST_RULES
    for paper in (project.paper(supply.paper) for supply in group.supplies):
        offcuts = [offcut.size for offcut in project.offcuts if offcut.paper == paper.name]
        side = max(side for size in (paper.size, *offcuts) for side in (size.width, size.height))
        if side > longest:
            unit = project.units
            raise PlanningError(
                f'"{paper.name}" is {write_number(side, unit)} {unit} long, and no sheet over '
                f"{write_number(longest, unit)} {unit} is laid on this trimmer. Cut it into "
                "shorter sheets first and enter those, or set the trimmer that you have."
            )


def _check_cuttable(group: Subproblem, trimmer: Trimmer, unit: Unit) -> None:
    for index, item in enumerate(group.items):
        serving = [supply for supply in group.supplies if index in group.eligible(supply)]
        if not any(_frees(group.trimmer, supply, item) for supply in serving):
            papers = " or ".join(f'"{supply.paper}"' for supply in serving)
            longest = write_number(trimmer.cut_length, unit)
            rule = write_number(trimmer.rule_length, unit)
            raise PlanningError(
                f'"{item.name}" cannot be cut from {papers} on this trimmer, whose longest cut is '
                f"{longest} {unit} and whose rule ends at {rule} {unit}. Have the sheets cut "
                "smaller and enter the parts as offcuts, or set the trimmer that you have."
            )


def _frees(limits: TrimmerLimits, supply: Supply, item: Item) -> bool:
    lying = [(item.width, item.height)]
    if supply.turns:
        lying.append((item.height, item.width))
    wholes = [(source.width, source.height) for source in supply.sources]
    return any(limits.frees(whole, part) for whole in wholes for part in lying)


def _margin(strip: Strip, scale: int) -> Margin:
    direction = WIDTH if strip.upright else HEIGHT
    return Margin(direction, int(strip.width.mm * scale), strip.lies_first)


def _lengths(project: Project) -> Iterable[Length]:
    sizes: list[Size] = [project.card.base_size]
    sizes += [size for paper in project.papers for size in (paper.size, paper.usable)]
    sizes += [offcut.size for offcut in project.offcuts]
    sizes += [piece.size for piece in project.pieces]
    for size in sizes:
        yield size.width
        yield size.height


def _items(project: Project, count: int, scale: int) -> list[Item]:
    def sides(size: Size) -> tuple[int, int]:
        return int(size.width.mm * scale), int(size.height.mm * scale)

    def item(number: int, piece: Piece) -> Item:
        copies = count * piece.per_card + piece.spare
        return Item(
            number,
            piece.name,
            *sides(piece.size),
            least=copies if piece.needed else 0,
            copies=copies,
            papers=piece.papers,
            needed=piece.needed,
            dealt=project.mixed(piece),
            spare=piece.spare,
            alike=project.alike(piece),
        )

    base = Item(
        0,
        BASE,
        *sides(project.card.base_size),
        least=count,
        copies=count,
        papers=(project.card.paper,),
        needed=True,
        dealt=False,
    )
    return [base, *itertools.starmap(item, enumerate(project.pieces, 1))]


def _connected(links: Sequence[set[str]]) -> list[set[str]]:
    """The papers in sets that no link straddles, in the order of the links."""
    sets: list[set[str]] = []
    for link in links:
        joined = set(link)
        apart = []
        for papers in sets:
            if papers & joined:
                joined |= papers
            else:
                apart.append(papers)
        sets = [*apart, joined]
    return sorted(sets, key=lambda papers: next(n for n, link in enumerate(links) if link & papers))


def _supply(
    project: Project, paper: Paper, count: int, scale: int, limits: TrimmerLimits
) -> Supply:
    def source(size: Size, available: int, *, offcut: bool) -> Source:
        return Source(
            int(size.width.mm * scale),
            int(size.height.mm * scale),
            available,
            offcut,
            cost=0 if offcut else 1,
            margin=_margin(paper.strip, scale) if paper.strip and not offcut else None,
        )

    offcuts = [
        source(offcut.size, offcut.count, offcut=True)
        for offcut in project.offcuts
        if offcut.paper == paper.name
    ]
    whole = source(paper.usable, paper.sheets, offcut=False)
    if not _trims(limits, whole):
        whole = replace(whole, width=0, height=0)
    dealt = paper_limits(project, paper, count)
    return Supply(paper.name, paper.turns, (whole, *offcuts), dealt)


def _trims(limits: TrimmerLimits, left: Source) -> bool:
    """Whether a printed strip, if there is one, can be taken off to leave the source."""
    mark = left.margin_mark
    if left.margin is None or mark is None:
        return True
    line = across((left.width, left.height), left.margin.direction)
    return line <= limits.longest and mark <= limits.rule
