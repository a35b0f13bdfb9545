"""A plan: how every sheet is cut, in which order, and which card gets what."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import groupby, pairwise, product
from typing import Literal, NamedTuple

from workbench.craft.direction import Direction
from workbench.craft.pace import ESTIMATED, Pace
from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length

Role = Literal["piece", "offcut", "scrap"]

Path = tuple[int, ...]
"""Cuts followed from a whole sheet on: 1 for the part measured, 2 for the rest."""


@cache
def paths_below(path: Path) -> tuple[Path, Path]:
    """The paths of the two parts that a cut makes: what is measured, and the rest."""
    # Parts of sheets cut alike share their paths, which keeps plans of thousands of cards small.
    return (*path, 1), (*path, 2)


class PartId(NamedTuple):
    """Which part of which sheet: `path` follows the cuts, 1 for the part measured, 2 for the rest.

    A whole sheet has an empty path. Written out it is "S1.1.2", in data and on screens only.
    """

    sheet: str
    path: Path = ()

    @classmethod
    def each(cls, sheets: Iterable[str], paths: Iterable[Path]) -> "list[PartId]":
        """The parts at the end of each of `paths`, sheet by sheet."""
        # Tens of thousands are made for a large batch; `cls(sheet, path)` would take twice as long.
        return list(map(partial(tuple.__new__, cls), product(sheets, paths)))

    @classmethod
    def read(cls, text: str) -> "PartId":
        """The id that `text` writes out. Raises ValueError where it is none."""
        sheet, *path = text.split(".")
        halves = tuple(int(half) for half in path)
        if not sheet or not set(halves) <= {1, 2}:
            raise ValueError(f'"{text}" is not the name of a part, such as S1.1.2')
        return cls(sheet, halves)

    @property
    def halves(self) -> tuple["PartId", "PartId"]:
        """The two parts that a cut makes of this one: what is measured, and the rest."""
        first, rest = paths_below(self.path)
        make, sheet = tuple.__new__, self.sheet
        return make(PartId, (sheet, first)), make(PartId, (sheet, rest))

    @property
    def parent(self) -> "PartId | None":
        """The part that was cut to make this one; None for a whole sheet."""
        return PartId(self.sheet, self.path[:-1]) if self.path else None

    def below(self, path: Path) -> "PartId":
        """The part that further cuts along `path` make of this one."""
        return PartId(self.sheet, self.path + path)

    def __str__(self) -> str:
        return ".".join((self.sheet, *map(str, self.path)))


@dataclass(frozen=True, slots=True)
class Part:
    """A final part of a sheet, at the end of the cuts that `path` follows.

    `x` and `y` count from the sheet's bottom left, its print upright. `turned`: the piece lies
    sideways here, its width along the sheet's height.
    """

    path: Path
    role: Role
    piece: str | None
    x: Length
    y: Length
    width: Length
    height: Length
    turned: bool = False

    @property
    def size(self) -> Size:
        """As it lies on the sheet."""
        return Size(self.width, self.height)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet (or, when `offcut`, an offcut from stock) and the parts that tile it.

    Sheets cut alike share their `parts`; `part_id` tells those of one sheet from another's.
    """

    id: str
    paper: str
    width: Length
    height: Length
    offcut: bool = False
    parts: tuple[Part, ...] = ()

    @property
    def size(self) -> Size:
        """The whole sheet, its print upright."""
        return Size(self.width, self.height)

    @property
    def whole(self) -> PartId:
        """The sheet before any cut."""
        return PartId(self.id)

    def part_id(self, part: Part) -> PartId:
        """The id of one of its parts."""
        return PartId(self.id, part.path)


@dataclass(frozen=True, slots=True)
class Cut:
    """Like parts stacked together and cut in one stroke at `mark` along `measure`."""

    n: int
    takes: tuple[PartId, ...]
    measure: Direction
    mark: Length

    @property
    def gives(self) -> tuple[tuple[PartId, PartId], ...]:
        """The two halves of each part taken: (first, rest).

        The first measures `mark` and lies at the left (width) or the bottom (height).
        """
        return tuple(part.halves for part in self.takes)


@dataclass(frozen=True, slots=True)
class Score:
    """Bases scored one by one: the fold lies at `mark` along `measure`."""

    n: int
    takes: tuple[PartId, ...]
    measure: Direction
    mark: Length


@dataclass(frozen=True, slots=True)
class Fold:
    """Bases folded at their scores."""

    n: int
    takes: tuple[PartId, ...]


@dataclass(frozen=True, slots=True)
class Round:
    """Pieces of one name whose corners are rounded."""

    n: int
    takes: tuple[PartId, ...]


@dataclass(frozen=True, slots=True)
class Deal:
    """Parts of one piece and face laid on the piles of their cards, in the order of the cards."""

    n: int
    takes: tuple[PartId, ...]


@dataclass(frozen=True, slots=True)
class Mount:
    """Parts of one piece glued into the open cards, in the order of the cards."""

    n: int
    takes: tuple[PartId, ...]


@dataclass(frozen=True, slots=True)
class Assemble:
    """Card number `card` put together: its base, then its layers from back to front."""

    n: int
    takes: tuple[PartId, ...]
    card: int


@dataclass(frozen=True, slots=True)
class Own:
    """A step of the maker's own, done to each part in turn; `name` is that of the project's."""

    n: int
    takes: tuple[PartId, ...]
    name: str


Step = Cut | Score | Fold | Round | Deal | Mount | Assemble | Own
"""One thing to do, number `n` of the plan, to the parts that it `takes`."""


@dataclass(frozen=True, slots=True)
class Combination:
    """Which paper each layer of one card is cut from, by layer name, back to front."""

    card: int
    pieces: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Group:
    """Papers planned together, with the proof of how few sheets are possible.

    `because` says why no fewer, where it is not for the area alone; else it is None.
    """

    papers: tuple[str, ...]
    sheets: int
    fewest_possible: int
    because: str | None = None

    @property
    def proven(self) -> bool:
        """Whether no plan opens fewer sheets."""
        return self.sheets == self.fewest_possible


@dataclass(frozen=True, slots=True)
class Shortage:
    """Sheets that must still be bought."""

    paper: str
    sheets: int


@dataclass(frozen=True, slots=True)
class Totals:
    """`cuts` are strokes of the blade (a stack is one); `marks` are the different readings used.

    No order of these cuts sets the guide less often than `fewest_settings`. For true cuts in rows,
    of these pieces and sheets, fewer marks than `fewest_marks` are ruled out, and less time at the
    table than `least_table_seconds`. No more than `most_different` cards can differ, of these
    pieces and by the maker's rules. None where that is not known.
    """

    sheets: int
    fewest_possible: int
    cuts: int
    marks: int
    seconds: float
    fewest_settings: int | None = None
    fewest_marks: int | None = None
    most_different: int | None = None
    least_table_seconds: int | None = None

    @property
    def proven(self) -> bool:
        """Whether no plan opens fewer sheets."""
        return self.sheets == self.fewest_possible


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole batch, planned.

    When `shortages` is not empty the plan counts them as bought, and `makeable` says how many
    cards the paper on hand can make. `pace` is what it was made for.
    """

    title: str
    cards: int
    totals: Totals
    groups: tuple[Group, ...]
    shortages: tuple[Shortage, ...]
    sheets: tuple[Sheet, ...]
    steps: tuple[Step, ...]
    combinations: tuple[Combination, ...]
    makeable: int
    pace: Pace = ESTIMATED

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """Every stroke of the blade, in order."""
        return tuple(step for step in self.steps if isinstance(step, Cut))

    @property
    def different(self) -> int:
        """How many cards there are of which no two are alike."""
        return len({tuple(card.pieces.items()) for card in self.combinations})


@dataclass(frozen=True, slots=True)
class TableWork:
    """What cuts take, made in their order.

    Attributes:
        settings: how often the guide is set.
        strokes: of the blade; a stack is one.
        sheets: laid in stacks, all in all.
        turns: how often the sheets are turned.
    """

    settings: int
    strokes: int
    sheets: int
    turns: int

    def seconds(self, pace: Pace) -> int:
        """The time it takes at that pace."""
        return pace.seconds(self.settings, self.strokes, self.sheets, self.turns)


def table_work(cuts: Sequence[Cut]) -> TableWork:
    """What `cuts` take at the table, made in that order."""
    turns = sum(one.measure is not other.measure for one, other in pairwise(cuts))
    laid = sum(len(cut.takes) for cut in cuts)
    return TableWork(settings_of(cuts), len(cuts), laid, turns)


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A part at any moment of the cutting, final or not: where it lies on its sheet."""

    sheet: str
    x: Length
    y: Length
    size: Size


def rectangles(plan: Plan) -> dict[PartId, Rectangle]:
    """Every rectangle that the cutting passes through, from whole sheets on.

    Raises KeyError for a cut of a part that is not there.
    """
    found = {sheet.whole: Rectangle(sheet.id, ZERO, ZERO, sheet.size) for sheet in plan.sheets}
    for cut in plan.cuts:
        for taken in cut.takes:
            first, rest = taken.halves
            found[first], found[rest] = _halves(found[taken], cut.measure, cut.mark)
    return found


def cut_alike(sheets: Iterable[Sheet]) -> tuple[tuple[Sheet, ...], ...]:
    """The sheets that are cut alike, of whatever paper, in the order of the first of each."""
    # Parts take long to compare, and of most sheets it is the very same one.
    same: dict[object, list[Sheet]] = {}
    for sheet in sheets:
        same.setdefault((id(sheet.parts), sheet.offcut), []).append(sheet)
    found: dict[object, list[Sheet]] = {}
    for first, *others in same.values():
        key = first.width, first.height, first.offcut, first.parts
        found.setdefault(key, []).extend((first, *others))
    return tuple(map(tuple, found.values()))


def settings(plan: Plan) -> int:
    """How many times the guide is set: the cuts whose mark is not the one before."""
    return settings_of(plan.cuts)


def settings_of(cuts: Iterable[Cut]) -> int:
    """The same for any cuts, made in that order."""
    return sum(1 for _ in groupby(cut.mark for cut in cuts))


def _halves(whole: Rectangle, measure: Direction, mark: Length) -> tuple[Rectangle, Rectangle]:
    first, rest = whole.size.halves(measure, mark)
    across = measure is Direction.WIDTH
    x, y = (whole.x + mark, whole.y) if across else (whole.x, whole.y + mark)
    return Rectangle(whole.sheet, whole.x, whole.y, first), Rectangle(whole.sheet, x, y, rest)
