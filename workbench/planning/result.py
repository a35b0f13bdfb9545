"""A plan: how every sheet is cut, in which order, and which card gets what."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from workbench.craft.direction import Direction
from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length

Role = Literal["piece", "offcut", "scrap"]
Doing = Literal["cut", "score", "fold", "round", "deal", "mount", "assemble"]


@dataclass(frozen=True, slots=True)
class Part:
    """A final part of a sheet. x and y from the sheet's bottom left, its print upright.

    `turned`: the piece lies sideways here, its width along the sheet's height.
    """

    id: str
    role: Role
    x: Length
    y: Length
    width: Length
    height: Length
    piece: str | None = None
    turned: bool = False


@dataclass(frozen=True)
class Sheet:
    """One sheet (or, when `offcut`, an offcut from stock) and the parts that tile it.

    `pattern` is what it has in common with every sheet cut alike: its parts, each with only that
    end of its id that follows the sheet's.
    """

    id: str
    paper: str
    width: Length
    height: Length
    pattern: tuple[Part, ...] = ()
    offcut: bool = False

    @property
    def size(self) -> Size:
        return Size(self.width, self.height)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """In the order of the pattern."""
        return tuple(replace(part, id=self.id + part.id) for part in self.pattern)

    def cut_into(self, parts: Iterable[Part]) -> "Sheet":
        """The sheet cut into these parts, whose ids begin with its own."""
        pattern = (replace(part, id=part.id.removeprefix(self.id)) for part in parts)
        return replace(self, pattern=tuple(pattern))


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    A "cut" takes like parts stacked together and cuts them at `mark` along `measure`. A "score"
    takes bases and measures the mark of the fold. "fold" and "round" take the parts they are done
    to; "deal" and "mount" take the parts that go on the pile of each card, or into it, card by
    card; "assemble" makes card number `card`.
    """

    n: int
    do: Doing
    takes: tuple[str, ...]
    measure: Direction | None = None
    mark: Length | None = None
    card: int | None = None

    @property
    def gives(self) -> tuple[tuple[str, str], ...]:
        """What a cut gives for each part it takes: (first, rest), called after that part.

        The first measures `mark` and lies at the left (width) or the bottom (height).
        """
        if self.do != "cut":
            return ()
        return tuple((f"{label}.1", f"{label}.2") for label in self.takes)


@dataclass(frozen=True, slots=True)
class Combination:
    """Which paper each layer of one card is cut from, by layer name, back to front."""

    card: int
    pieces: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Group:
    """Papers planned together, with the proof of how few sheets are possible."""

    papers: tuple[str, ...]
    sheets: int
    fewest_possible: int

    @property
    def proven(self) -> bool:
        return self.sheets == self.fewest_possible


@dataclass(frozen=True, slots=True)
class Shortage:
    """Sheets that must still be bought."""

    paper: str
    sheets: int


@dataclass(frozen=True, slots=True)
class Totals:
    """`cuts` are strokes of the blade (a stack is one); `marks` are the different readings used.

    No order sets the guide less often than `fewest_settings` (0: not known, as of a plan that was
    kept as data). Cutting these pieces in rows, each mark the size of one, nobody does with fewer
    than `fewest_marks` (0: not known). No more than `most_different` cards can differ, of these
    pieces and by the maker's rules (0: not known).
    """

    sheets: int
    fewest_possible: int
    cuts: int
    marks: int
    seconds: float
    fewest_settings: int = 0
    fewest_marks: int = 0
    most_different: int = 0

    @property
    def proven(self) -> bool:
        return self.sheets == self.fewest_possible


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole batch, planned. When `shortages` is not empty the plan counts them as bought,
    and `makeable` says how many cards the paper on hand can make."""

    title: str
    cards: int
    totals: Totals
    groups: tuple[Group, ...]
    shortages: tuple[Shortage, ...]
    sheets: tuple[Sheet, ...]
    steps: tuple[Step, ...]
    combinations: tuple[Combination, ...]
    makeable: int

    @property
    def different(self) -> int:
        """How many cards there are of which no two are alike."""
        return len({tuple(card.pieces.items()) for card in self.combinations})


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A part at any moment of the cutting, final or not: where it lies on its sheet."""

    sheet: str
    x: Length
    y: Length
    size: Size


def rectangles(plan: Plan) -> dict[str, Rectangle]:
    """Every rectangle that the cutting passes through, by part id, from whole sheets on."""
    found = {sheet.id: Rectangle(sheet.id, ZERO, ZERO, sheet.size) for sheet in plan.sheets}
    for step in plan.steps:
        if step.do != "cut" or step.mark is None or step.measure is None:
            continue
        for taken, (first, rest) in zip(step.takes, step.gives, strict=True):
            found[first], found[rest] = _halves(found[taken], step.measure, step.mark)
    return found


def cut_alike(sheets: Iterable[Sheet]) -> tuple[tuple[Sheet, ...], ...]:
    """The sheets that are cut alike, of whatever paper, in the order of the first of each."""
    # Patterns take long to compare, and of most sheets it is the very same one.
    same: dict[object, list[Sheet]] = {}
    for sheet in sheets:
        same.setdefault((id(sheet.pattern), sheet.offcut), []).append(sheet)
    found: dict[object, list[Sheet]] = {}
    for first, *others in same.values():
        key = first.width, first.height, first.offcut, first.pattern
        found.setdefault(key, []).extend((first, *others))
    return tuple(map(tuple, found.values()))


def settings(plan: Plan) -> int:
    """How many times the guide is set: the cuts whose mark is not the one before."""
    return settings_of([step for step in plan.steps if step.do == "cut"])


def settings_of(cuts: Iterable[Step]) -> int:
    """The same for any cuts, made in that order."""
    marks = [step.mark for step in cuts]
    return sum(1 for before, mark in zip([None, *marks], marks, strict=False) if mark != before)


def _halves(whole: Rectangle, measure: Direction, mark: Length) -> tuple[Rectangle, Rectangle]:
    first, rest = whole.size.halves(measure, mark)
    across = measure is Direction.WIDTH
    x, y = (whole.x + mark, whole.y) if across else (whole.x, whole.y + mark)
    return Rectangle(whole.sheet, whole.x, whole.y, first), Rectangle(whole.sheet, x, y, rest)
