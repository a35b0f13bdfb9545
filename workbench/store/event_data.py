"""Events as the workshop keeps them: what a mend, a note or offcuts carry, as JSON."""

import json
from datetime import datetime
from typing import Any

import msgspec

from workbench.craft.paper import Offcut, Size
from workbench.making.events import Event, Mend, What
from workbench.measure.reading import read_exact
from workbench.measure.writing import write_exact
from workbench.store.dump import project_text
from workbench.store.load import project_from_text
from workbench.store.plan_data import plan_from_data, plan_to_data


class _Bare(msgspec.Struct):
    what: What
    step: int
    at: datetime


class _MendData(msgspec.Struct):
    slip: str
    way: str
    project: str
    plan: Any
    makeable: int
    done: int


class _OffcutData(msgspec.Struct):
    paper: str
    width: str
    height: str
    count: int


def carried(event: Event) -> str | None:
    """What `event` carries beside its step; None for nothing."""
    if event.mend:
        return json.dumps(_mend_data(event.mend))
    if event.offcuts:
        return json.dumps({"offcuts": [_offcut_data(offcut) for offcut in event.offcuts]})
    return json.dumps({"note": event.note}) if event.note else None


def event_kept(what: str, step: int, at: str, carries: str | None) -> Event:
    """The event again. Raises StoreError, ValidationError and ValueError when it is damaged."""
    kept = json.loads(carries) if carries else {}
    event = msgspec.convert({"what": what, "step": step, "at": at}, _Bare)
    mend = _mend(kept) if event.what == "mended" else None
    offcuts = tuple(map(_offcut, kept.get("offcuts", ())))
    return Event(event.what, event.step, event.at, mend, kept.get("note", ""), offcuts)


def _offcut_data(offcut: Offcut) -> object:
    width, height = (write_exact(side, "mm") for side in (offcut.size.width, offcut.size.height))
    return msgspec.to_builtins(_OffcutData(offcut.paper, width, height, offcut.count))


def _offcut(kept: object) -> Offcut:
    data = msgspec.convert(kept, _OffcutData)
    return Offcut(data.paper, Size(read_exact(data.width), read_exact(data.height)), data.count)


def _mend_data(mend: Mend) -> dict[str, object]:
    return {
        "slip": mend.slip,
        "way": mend.way,
        "project": project_text(mend.project),
        "plan": plan_to_data(mend.plan, mend.project.units),
        "makeable": mend.plan.makeable,
        "done": mend.done,
    }


def _mend(kept: dict[str, object]) -> Mend:
    data = msgspec.convert(kept, _MendData)
    return Mend(
        data.slip,
        data.way,
        project_from_text(data.project, "a mended batch"),
        plan_from_data(data.plan, data.makeable),
        data.done,
    )
