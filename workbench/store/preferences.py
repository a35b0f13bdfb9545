"""The maker's preferences, which hold for all batches: trimmer, tolerance, units, keys."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from workbench.craft.errors import CraftError
from workbench.craft.trimmer import TOLERANCE, Trimmer
from workbench.measure.length import UNITS, ZERO, Length, MeasureError, Unit
from workbench.measure.reading import read_exact
from workbench.measure.writing import write_exact
from workbench.post.envelopes import CLEARANCE
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError
from workbench.store.trimmer_data import trimmer_data, trimmer_kept

TRIMMER, TOLERANCE_KEY, UNIT, BELL, VOICE, KEYS, POST, CLEARANCE_KEY, OWN_PACE = (
    "trimmer",
    "tolerance",
    "unit",
    "bell",
    "voice",
    "keys",
    "post",
    "clearance",
    "own pace",
)
_ROOM = "room in envelopes"


@dataclass(frozen=True, slots=True)
class Preferences:
    """What the maker sets once for all batches.

    Attributes:
        trimmer: what the maker's trimmer can do.
        tolerance: how far a piece may be off and its border still look even.
        unit: what lengths are shown in, None for each project's own.
        bell: whether the terminal's bell rings at every step.
        voice: whether steps are spoken.
        keys: the maker's own keys, by the name of their command.
        post: the key of the post that letters go by, None for the usual one of the project's units.
        clearance: how much larger than its card an envelope must be each way.
        own_pace: whether minutes are counted, and plans made, at the maker's own pace as far as it
            is measured; else at estimates.

    Raises:
        CraftError: for a tolerance or a clearance below zero.
    """

    trimmer: Trimmer = field(default_factory=Trimmer)
    tolerance: Length = TOLERANCE
    unit: Unit | None = None
    bell: bool = False
    voice: bool = False
    keys: Mapping[str, str] = field(default_factory=dict)
    post: str | None = None
    clearance: Length = CLEARANCE
    own_pace: bool = True

    def __post_init__(self) -> None:
        for length, place in ((self.tolerance, "even within"), (self.clearance, _ROOM)):
            if length < ZERO:
                raise CraftError(place, "it is less than nothing", "give 0 or more")


def preferences_of(workshop: Workshop) -> Preferences:
    """The preferences kept in `workshop`; those that are not there are the usual ones.

    Raises:
        WorkshopError: when they are damaged, or the workshop's file cannot be used.
    """
    kept = workshop.preferences() if workshop.exists else {}
    keys, post = kept.get(KEYS), kept.get(POST)
    return Preferences(
        trimmer=trimmer_kept(kept.get(TRIMMER)),
        tolerance=_length(kept.get(TOLERANCE_KEY), TOLERANCE, "tolerance"),
        unit=next((unit for unit in UNITS if unit == kept.get(UNIT)), None),
        bell=kept.get(BELL) is True,
        voice=kept.get(VOICE) is True,
        keys=keys if isinstance(keys, dict) else {},
        post=post if isinstance(post, str) else None,
        clearance=_length(kept.get(CLEARANCE_KEY), CLEARANCE, _ROOM),
        own_pace=kept.get(OWN_PACE) is not False,
    )


def keep_preferences(workshop: Workshop, preferences: Preferences) -> None:
    """Keep all preferences in `workshop`, or none where that fails.

    Raises:
        WorkshopError: when the workshop's file cannot be used.
    """
    workshop.set_preferences(
        {
            TRIMMER: trimmer_data(preferences.trimmer),
            TOLERANCE_KEY: write_exact(preferences.tolerance, "mm"),
            UNIT: preferences.unit,
            BELL: preferences.bell,
            VOICE: preferences.voice,
            KEYS: dict(preferences.keys),
            POST: preferences.post,
            CLEARANCE_KEY: write_exact(preferences.clearance, "mm"),
            OWN_PACE: preferences.own_pace,
        }
    )


def _length(kept: Any, usual: Length, name: str) -> Length:
    if kept is None:
        return usual
    try:
        length = read_exact(kept)
    except (MeasureError, TypeError) as error:
        raise _damaged(name, str(error)) from error
    if length < ZERO:
        raise _damaged(name, "it is less than nothing")
    return length


def _damaged(name: str, why: str) -> WorkshopError:
    return WorkshopError(f"the {name} in the settings", f"it is damaged ({why})", "set it again")
