"""Events as the workshop keeps them: what a recovery, a note or offcuts carry, as JSON."""

import json
from typing import Any

from workbench.making.events import Event, Recovery
from workbench.store.data_hooks import DataError, from_data, to_data
from workbench.store.dump import project_text
from workbench.store.load import project_from_text
from workbench.store.plan_data import plan_from_data, plan_to_data


def carried(event: Event) -> str | None:
    """What `event` carries beside its step, as JSON; None for nothing. Lengths are in mm."""
    if event.recovery:
        return json.dumps(_recovery_data(event.recovery))
    if event.offcuts:
        return json.dumps({"offcuts": to_data(event.offcuts, "mm")})
    return json.dumps({"note": event.note}) if event.note else None


def event_kept(what: str, step: int, at: str, carries: str | None) -> Event:
    """The event that a row of the workshop keeps.

    Args:
        what: One of `making.events.What`.
        step: The number of the step it happened at.
        at: When, as ISO 8601.
        carries: What `carried` has written, by this version of the program or an earlier one.

    Raises:
        StoreError, DataError: it is damaged.
    """
    kept = from_data(dict[str, Any], json.loads(carries) if carries else {})
    if what == "mended":
        kept = {"recovery": _recovery(kept)}
    if "offcuts" in kept:
        kept = {
            "offcuts": [_sized(one) for one in from_data(list[dict[str, Any]], kept["offcuts"])]
        }
    return from_data(Event, {"what": what, "step": step, "at": at, **kept})


def _sized(offcut: dict[str, Any]) -> dict[str, Any]:
    # Once the two sides of an offcut were kept beside its paper.
    return offcut if "size" in offcut else {**offcut, "size": offcut}


def _recovery_data(recovery: Recovery) -> dict[str, Any]:
    return {
        "slip": recovery.slip,
        "way": recovery.way,
        "project": project_text(recovery.project),
        "plan": plan_to_data(recovery.plan, recovery.project.units),
        "makeable": recovery.plan.makeable,
        "done": recovery.done,
    }


def _recovery(kept: dict[str, Any]) -> Recovery:
    if not {"project", "plan", "makeable"} <= kept.keys():
        raise DataError("a way on has no project or no plan")
    project = project_from_text(from_data(str, kept["project"]), "a mended batch")
    plan = plan_from_data(kept["plan"], from_data(int, kept["makeable"]))
    return from_data(Recovery, {**kept, "project": project, "plan": plan})
