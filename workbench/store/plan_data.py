"""A plan as data for JSON, every length an exact string, and back again.

{"format": 1, "title": ..., "cards": 9, "totals": {...}, "groups": [...], "shortages": [...],
 "sheets": [{..., "parts": [...]}], "steps": [...], "combinations": [...]}
"""

from functools import lru_cache
from typing import Any, Literal

import msgspec
from msgspec import UNSET, UnsetType

from workbench.craft.direction import Direction
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.reading import read_exact
from workbench.measure.writing import write_exact
from workbench.planning import (
    Combination,
    Doing,
    Group,
    Part,
    Plan,
    Role,
    Sheet,
    Shortage,
    Step,
    Totals,
    rectangles,
)
from workbench.store.errors import StoreError

# The planner names offcuts from stock O1, O2, ... and whole sheets S1, S2, ...
OFFCUT_LETTER = "O"
_SECONDS_PLACES = 2
# A plan of thousands of cards says the same few lengths over and over.
_length = lru_cache(maxsize=4096)(read_exact)


class _TotalsData(msgspec.Struct):
    sheets: int
    fewest_possible: int
    proven: bool
    cuts: int
    marks: int
    seconds: float
    fewest_marks: int = 0
    different: int = 0
    most_different: int = 0


class _GroupData(msgspec.Struct):
    papers: tuple[str, ...]
    sheets: int
    fewest_possible: int
    proven: bool


class _ShortageData(msgspec.Struct):
    paper: str
    sheets: int


class _PartData(msgspec.Struct):
    id: str
    role: Role
    piece: str | None
    x: str
    y: str
    width: str
    height: str
    turned: bool


class _SheetData(msgspec.Struct):
    id: str
    paper: str
    width: str
    height: str
    parts: tuple[_PartData, ...]


class _StepData(msgspec.Struct):
    n: int
    do: Doing
    takes: tuple[str, ...]
    measure: Direction | None
    mark: str | None
    gives: tuple[tuple[str, str], ...]
    card: int | UnsetType = UNSET


class _CombinationData(msgspec.Struct):
    card: int
    pieces: dict[str, str]


class _PlanData(msgspec.Struct):
    format: Literal[1]
    title: str
    cards: int
    totals: _TotalsData
    groups: tuple[_GroupData, ...]
    shortages: tuple[_ShortageData, ...]
    sheets: tuple[_SheetData, ...]
    steps: tuple[_StepData, ...]
    combinations: tuple[_CombinationData, ...]


def plan_to_data(plan: Plan, unit: Unit) -> dict[str, Any]:
    """`plan` as dictionaries and lists, its lengths in `unit`."""
    totals = plan.totals
    data = _PlanData(
        format=1,
        title=plan.title,
        cards=plan.cards,
        totals=_TotalsData(
            sheets=totals.sheets,
            fewest_possible=totals.fewest_possible,
            proven=totals.proven,
            cuts=totals.cuts,
            marks=totals.marks,
            seconds=round(totals.seconds, _SECONDS_PLACES),
            fewest_marks=totals.fewest_marks,
            different=plan.different,
            most_different=totals.most_different,
        ),
        groups=tuple(
            _GroupData(group.papers, group.sheets, group.fewest_possible, group.proven)
            for group in plan.groups
        ),
        shortages=tuple(_ShortageData(short.paper, short.sheets) for short in plan.shortages),
        sheets=tuple(_sheet_data(sheet, unit) for sheet in plan.sheets),
        steps=tuple(_step_data(step, unit) for step in plan.steps),
        combinations=tuple(
            _CombinationData(combination.card, dict(combination.pieces))
            for combination in plan.combinations
        ),
    )
    built: dict[str, Any] = msgspec.to_builtins(data)
    return built


def plan_from_data(data: Any, makeable: int | None = None) -> Plan:
    """The plan that `data` holds. Raises StoreError when it is damaged.

    The data do not say how many cards the paper on hand can make; without `makeable`, all.
    """
    try:
        plan = _plan(msgspec.convert(data, _PlanData), makeable)
        rectangles(plan)
    except (msgspec.ValidationError, MeasureError) as error:
        raise _damaged(str(error)) from error
    except KeyError as error:
        raise _damaged(f"no part is called {error}") from error
    except ValueError as error:
        raise _damaged("a cut does not give two parts for each it takes") from error
    if [step.n for step in plan.steps] != list(range(1, len(plan.steps) + 1)):
        raise _damaged("its steps are not numbered 1, 2, 3")
    return plan


def _damaged(why: str) -> StoreError:
    return StoreError("the plan", f"it is damaged ({why})", "plan the project again")


def _sheet_data(sheet: Sheet, unit: Unit) -> _SheetData:
    return _SheetData(
        id=sheet.id,
        paper=sheet.paper,
        width=write_exact(sheet.width, unit),
        height=write_exact(sheet.height, unit),
        parts=tuple(_part_data(part, unit) for part in sheet.parts),
    )


def _part_data(part: Part, unit: Unit) -> _PartData:
    return _PartData(
        id=part.id,
        role=part.role,
        piece=part.piece,
        x=write_exact(part.x, unit),
        y=write_exact(part.y, unit),
        width=write_exact(part.width, unit),
        height=write_exact(part.height, unit),
        turned=part.turned,
    )


def _step_data(step: Step, unit: Unit) -> _StepData:
    return _StepData(
        n=step.n,
        do=step.do,
        takes=step.takes,
        measure=step.measure,
        mark=None if step.mark is None else write_exact(step.mark, unit),
        gives=step.gives,
        card=UNSET if step.card is None else step.card,
    )


def _plan(data: _PlanData, makeable: int | None) -> Plan:
    totals = data.totals
    return Plan(
        title=data.title,
        cards=data.cards,
        totals=Totals(
            sheets=totals.sheets,
            fewest_possible=totals.fewest_possible,
            cuts=totals.cuts,
            marks=totals.marks,
            seconds=totals.seconds,
            fewest_marks=totals.fewest_marks,
            most_different=totals.most_different,
        ),
        groups=tuple(
            Group(group.papers, group.sheets, group.fewest_possible) for group in data.groups
        ),
        shortages=tuple(Shortage(short.paper, short.sheets) for short in data.shortages),
        sheets=tuple(map(_sheet, data.sheets)),
        steps=tuple(map(_step, data.steps)),
        combinations=tuple(
            Combination(combination.card, combination.pieces) for combination in data.combinations
        ),
        makeable=data.cards if makeable is None else makeable,
    )


def _sheet(data: _SheetData) -> Sheet:
    width, height = _length(data.width), _length(data.height)
    whole = Sheet(data.id, data.paper, width, height, (), data.id.startswith(OFFCUT_LETTER))
    return whole.cut_into(map(_part, data.parts))


def _part(data: _PartData) -> Part:
    x, y, width, height = map(_length, (data.x, data.y, data.width, data.height))
    return Part(data.id, data.role, x, y, width, height, data.piece, data.turned)


def _step(data: _StepData) -> Step:
    mark: Length | None = None if data.mark is None else _length(data.mark)
    card = None if data.card is UNSET else data.card
    return Step(data.n, data.do, data.takes, data.measure, mark, card)
