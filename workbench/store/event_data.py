"""Events as the workshop keeps them: what a mend or a note carries, as JSON."""

import json
from datetime import datetime
from typing import Any

import msgspec

from workbench.making.events import Event, Mend, What
from workbench.store.plan_data import plan_from_data, plan_to_data
from workbench.store.project_reading import project_from_text
from workbench.store.project_writing import project_text


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


def carried(event: Event) -> str | None:
    """What `event` carries beside its step; None for nothing."""
    if event.mend:
        return json.dumps(_mend_data(event.mend))
    return json.dumps({"note": event.note}) if event.note else None


def event_kept(what: str, step: int, at: str, carries: str | None) -> Event:
    """The event again. Raises StoreError, ValidationError and ValueError when it is damaged."""
    kept = json.loads(carries) if carries else {}
    event = msgspec.convert({"what": what, "step": step, "at": at}, _Bare)
    mend = _mend(kept) if event.what == "mended" else None
    return Event(event.what, event.step, event.at, mend, kept.get("note", ""))


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
