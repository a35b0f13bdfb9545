"""The smallest offcut that the maker keeps, as the workshop holds it."""

import json
from fractions import Fraction

from workbench.craft.errors import CraftError
from workbench.craft.stock import LeastUseful
from workbench.measure.length import MeasureError
from workbench.measure.reading import read_exact
from workbench.measure.writing import write_exact
from workbench.store.errors import WorkshopError

LEAST_KEY = "least useful offcut"


def least_useful(kept: str | None) -> LeastUseful:
    """What the text `kept` under LEAST_KEY says, the usual where there is none.

    Raises:
        WorkshopError: where it is damaged.
    """
    if kept is None:
        return LeastUseful()
    try:
        data = json.loads(kept)
        return LeastUseful(read_exact(data["side"]), Fraction(data["area"]))
    except (ValueError, LookupError, TypeError, ArithmeticError, MeasureError, CraftError) as error:
        raise WorkshopError(
            "the least useful offcut", f"it is damaged ({error})", "set it again"
        ) from error


def least_useful_kept(least: LeastUseful) -> dict[str, str]:
    """What stands for `least` under LEAST_KEY; its area is in square inches."""
    return {"side": write_exact(least.side, "in"), "area": str(least.area)}
