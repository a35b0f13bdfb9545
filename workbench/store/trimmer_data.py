"""The maker's trimmer as the workshop keeps it: lengths as exact strings."""

from typing import Any

import msgspec

from workbench.craft.errors import CraftError
from workbench.craft.paper import PaperKind
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import UNITS, MeasureError, Unit
from workbench.measure.reading import read_exact
from workbench.measure.writing import Graduation, graduation_for, write_exact
from workbench.store.errors import WorkshopError


class _TrimmerData(msgspec.Struct):
    cut_length: str
    rule_length: str
    hold: str
    at_once: dict[PaperKind, int]
    graduations: dict[Unit, str] = {}


def trimmer_data(trimmer: Trimmer) -> Any:
    """`trimmer` as anything that JSON can hold."""
    return msgspec.to_builtins(
        _TrimmerData(
            cut_length=write_exact(trimmer.cut_length, "mm"),
            rule_length=write_exact(trimmer.rule_length, "mm"),
            hold=write_exact(trimmer.hold, "mm"),
            at_once=dict(trimmer.at_once),
            graduations={
                unit: write_exact(graduation.interval, unit)
                for unit, graduation in trimmer.graduations.items()
            },
        )
    )


def trimmer_kept(kept: Any) -> Trimmer:
    """The trimmer again, a careful one for None. Raises WorkshopError when it is damaged."""
    if kept is None:
        return Trimmer()
    try:
        data = msgspec.convert(kept, _TrimmerData)
        return Trimmer(
            cut_length=read_exact(data.cut_length),
            rule_length=read_exact(data.rule_length),
            hold=read_exact(data.hold),
            at_once=data.at_once,
            graduations={unit: _graduation(unit, data.graduations.get(unit)) for unit in UNITS},
        )
    except (msgspec.ValidationError, MeasureError, CraftError) as error:
        raise WorkshopError(
            "the trimmer's settings", f"they are damaged ({error})", "set them again"
        ) from error


def _graduation(unit: Unit, kept: str | None) -> Graduation:
    # Settings kept before the graduation was one of them lack it.
    return graduation_for(unit) if kept is None else Graduation(unit, read_exact(kept).number(unit))
