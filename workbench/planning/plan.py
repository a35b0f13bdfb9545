"""A plan: how every sheet is cut, in which order, and which card gets what."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from workbench.craft.paper import Size
from workbench.measure.length import ZERO, Length

Role = Literal["piece", "offcut", "scrap"]
Direction = Literal["width", "height"]
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


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet (or, when `offcut`, an offcut from stock) and the parts that tile it."""

    id: str
    paper: str
    width: Length
    height: Length
    parts: tuple[Part, ...]
    offcut: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    A "cut" takes like parts stacked together and, measuring `mark` along `measure`, gives for
    each the pair (first, rest): the first measures `mark` and lies at the left (width) or the
    bottom (height) of what was cut. A "score" takes bases and measures the mark of the fold.
    "fold" and "round" take the parts they are done to; "deal" and "mount" take the parts that go
    on the pile of each card, or into it, card by card; "assemble" makes card number `card`.
    """

    n: int
    do: Doing
    takes: tuple[str, ...]
    measure: Direction | None = None
    mark: Length | None = None
    gives: tuple[tuple[str, str], ...] = ()
    card: int | None = None


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
    kept as data).
    """

    sheets: int
    fewest_possible: int
    cuts: int
    marks: int
    seconds: float
    fewest_settings: int = 0

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


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A part at any moment of the cutting, final or not: where it lies on its sheet."""

    sheet: str
    x: Length
    y: Length
    size: Size


def rectangles(plan: Plan) -> dict[str, Rectangle]:
    """Every rectangle that the cutting passes through, by part id, from whole sheets on."""
    found = {
        sheet.id: Rectangle(sheet.id, ZERO, ZERO, Size(sheet.width, sheet.height))
        for sheet in plan.sheets
    }
    for step in plan.steps:
        if step.do != "cut" or step.mark is None or step.measure is None:
            continue
        for taken, (first, rest) in zip(step.takes, step.gives, strict=True):
            found[first], found[rest] = _halves(found[taken], step.measure, step.mark)
    return found


def settings(plan: Plan) -> int:
    """How many times the guide is set: the cuts whose mark is not the one before."""
    return settings_of([step for step in plan.steps if step.do == "cut"])


def settings_of(cuts: Iterable[Step]) -> int:
    """The same for any cuts, made in that order."""
    marks = [step.mark for step in cuts]
    return sum(1 for before, mark in zip([None, *marks], marks, strict=False) if mark != before)


def _halves(whole: Rectangle, measure: Direction, mark: Length) -> tuple[Rectangle, Rectangle]:
    width, height = whole.size.width, whole.size.height
    if measure == "width":
        return (
            Rectangle(whole.sheet, whole.x, whole.y, Size(mark, height)),
            Rectangle(whole.sheet, whole.x + mark, whole.y, Size(width - mark, height)),
        )
    return (
        Rectangle(whole.sheet, whole.x, whole.y, Size(width, mark)),
        Rectangle(whole.sheet, whole.x, whole.y + mark, Size(width, height - mark)),
    )
