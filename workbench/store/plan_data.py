"""A plan as data for JSON, every length an exact string, and back again.

{"format": 1, "title": ..., "cards": 9, "totals": {...}, "groups": [...], "shortages": [...],
 "sheets": [{..., "parts": [...]}], "steps": [...], "combinations": [...]}

The data say some things that follow from others, for programs that read them: what is proven, how
many cards differ, what a cut gives. They are left aside when a plan is read.
"""

from collections.abc import Mapping
from typing import Any

from workbench.craft.errors import CraftError
from workbench.measure.length import MeasureError, Unit
from workbench.planning import (
    Assemble,
    Cut,
    Deal,
    Fold,
    Mount,
    Own,
    Part,
    PartId,
    Plan,
    Round,
    Score,
    Sheet,
    Step,
    rectangles,
    table_work,
)
from workbench.store.data_hooks import DataError, from_data, to_data
from workbench.store.errors import StoreError

FORMAT = 1
_SECONDS_PLACES = 2
_STEPS: Mapping[str, type[Step]] = {
    "cut": Cut,
    "score": Score,
    "fold": Fold,
    "round": Round,
    "deal": Deal,
    "mount": Mount,
    "assemble": Assemble,
    "own": Own,
}
_DOINGS = {kind: word for word, kind in _STEPS.items()}
# What a plan's data had before they said which sheets are offcuts: a letter, and 0 for not known.
_OFFCUT_LETTER = "O"
_ONCE_NOUGHT = ("fewest_settings", "fewest_marks", "most_different")


def plan_to_data(plan: Plan, unit: Unit) -> dict[str, Any]:
    """`plan` as dictionaries and tuples, its lengths in `unit`. What is not known is None."""
    totals, work = plan.totals, table_work(plan.cuts)
    parts = {id(sheet.parts): to_data(sheet.parts, unit) for sheet in plan.sheets}
    return {
        "format": FORMAT,
        "title": plan.title,
        "cards": plan.cards,
        "totals": {
            "sheets": totals.sheets,
            "fewest_possible": totals.fewest_possible,
            "proven": totals.proven,
            "cuts": totals.cuts,
            "marks": totals.marks,
            "seconds": round(totals.seconds, _SECONDS_PLACES),
            "fewest_marks": totals.fewest_marks,
            "fewest_settings": totals.fewest_settings,
            "settings": work.settings,
            "laid": work.sheets,
            "turns": work.turns,
            "table_seconds": work.seconds(plan.pace),
            "least_table_seconds": totals.least_table_seconds,
            "different": plan.different,
            "most_different": totals.most_different,
        },
        "pace": to_data(plan.pace, unit),
        "groups": tuple({**to_data(group, unit), "proven": group.proven} for group in plan.groups),
        "shortages": to_data(plan.shortages, unit),
        "sheets": tuple(_sheet_data(sheet, parts[id(sheet.parts)], unit) for sheet in plan.sheets),
        "steps": tuple(_step_data(step, unit) for step in plan.steps),
        "combinations": to_data(plan.combinations, unit),
    }


def plan_from_data(data: Any, makeable: int | None = None) -> Plan:
    """The plan that `data` hold, of this version of the program or an earlier one.

    The data do not say how many cards the paper on hand can make; without `makeable`, all.

    Raises:
        StoreError: the data are damaged.
    """
    try:
        plan = _plan(data, makeable)
        rectangles(plan)
    except (DataError, MeasureError, CraftError) as error:
        raise _damaged(str(error)) from error
    except KeyError as error:
        raise _damaged(f"no part is called {error.args[0]}") from error
    if [step.n for step in plan.steps] != list(range(1, len(plan.steps) + 1)):
        raise _damaged("its steps are not numbered 1, 2, 3")
    return plan


def _damaged(why: str) -> StoreError:
    return StoreError("the plan", f"it is damaged ({why})", "plan the project again")


def _sheet_data(sheet: Sheet, parts: Any, unit: Unit) -> dict[str, Any]:
    named = [
        {"id": str(sheet.part_id(part)), **{key: data[key] for key in data if key != "path"}}
        for part, data in zip(sheet.parts, parts, strict=True)
    ]
    return {
        "id": sheet.id,
        "paper": sheet.paper,
        "width": to_data(sheet.width, unit),
        "height": to_data(sheet.height, unit),
        "offcut": sheet.offcut,
        "parts": tuple(named),
    }


def _step_data(step: Step, unit: Unit) -> dict[str, Any]:
    fields = to_data(step, unit)
    return {
        "n": fields.pop("n"),
        "do": _DOINGS[type(step)],
        "takes": fields.pop("takes"),
        "measure": fields.pop("measure", None),
        "mark": fields.pop("mark", None),
        "gives": tuple(
            [(str(first), str(rest)) for first, rest in step.gives] if isinstance(step, Cut) else ()
        ),
        **fields,
    }


def _plan(data: Any, makeable: int | None) -> Plan:
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise DataError(f"it is not of format {FORMAT}")
    kept = _brought_up(data)
    known: dict[object, tuple[Part, ...]] = {}
    return from_data(
        Plan,
        {
            "makeable": data.get("cards") if makeable is None else makeable,
            **kept,
            "sheets": [_sheet(each, known) for each in _listed(kept, "sheets")],
            "steps": [_step(each) for each in _listed(kept, "steps")],
        },
    )


def _listed(data: Mapping[str, Any], key: str) -> list[dict[str, Any]]:
    found = data.get(key)
    if not isinstance(found, (list, tuple)) or not all(isinstance(each, dict) for each in found):
        raise DataError(f"its {key} are no list")
    return list(found)


def _brought_up(data: dict[str, Any]) -> dict[str, Any]:
    """The data as they are kept today, whichever version of the program wrote them."""
    sheets, totals = _listed(data, "sheets"), data.get("totals")
    if all("offcut" in sheet for sheet in sheets) or not isinstance(totals, dict):
        return data
    offcuts = [str(sheet.get("id")).startswith(_OFFCUT_LETTER) for sheet in sheets]
    return {
        **data,
        "totals": {
            key: None if key in _ONCE_NOUGHT and number == 0 else number
            for key, number in totals.items()
        },
        "sheets": [
            {**sheet, "offcut": offcut} for sheet, offcut in zip(sheets, offcuts, strict=True)
        ],
    }


def _sheet(data: dict[str, Any], known: dict[object, tuple[Part, ...]]) -> Sheet:
    """A sheet; of those cut alike all have the parts of the first."""
    sheet, parts = from_data(str, data.get("id")), _listed(data, "parts")
    placed = [{**part, "path": _path(sheet, part.get("id"))} for part in parts]
    alike = tuple([repr({**part, "id": None}) for part in placed])
    if alike not in known:
        known[alike] = from_data(tuple[Part, ...], placed)
    return from_data(Sheet, {**data, "parts": known[alike]})


def _path(sheet: str, label: Any) -> tuple[int, ...]:
    part = from_data(PartId, label)
    if part.sheet != sheet:
        raise DataError(f"{part} is no part of {sheet}")
    return part.path


def _step(data: dict[str, Any]) -> Step:
    doing = str(data.get("do"))
    if doing not in _STEPS:
        raise DataError(f"nobody can {doing!r} a part")
    return from_data(_STEPS[doing], data)
