"""The maker's trimmer as the workshop keeps it: lengths as exact strings."""

from typing import Any

from workbench.craft.errors import CraftError
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import MeasureError
from workbench.store.data_hooks import DataError, from_data, to_data
from workbench.store.errors import WorkshopError


def trimmer_data(trimmer: Trimmer) -> Any:
    """`trimmer` as anything that JSON can hold, its lengths in millimetres."""
    return to_data(trimmer, "mm")


def trimmer_kept(kept: Any) -> Trimmer:
    """The trimmer again, a careful one for None; what is not kept is as a careful one has it.

    Raises:
        WorkshopError: it is damaged.
    """
    if kept is None:
        return Trimmer()
    try:
        return from_data(Trimmer, kept)
    except (DataError, MeasureError, CraftError) as error:
        raise WorkshopError(
            "the trimmer's settings", f"they are damaged ({error})", "set them again"
        ) from error
