"""Printed strips that a slip has left on a part: nothing is cut of it before its strip is off."""

from workbench.craft.direction import Direction
from workbench.craft.paper import Paper
from workbench.measure.length import ZERO, Length
from workbench.planning import Rectangle, Sheet


def strip_on(found: Rectangle, sheet: Sheet, paper: Paper) -> tuple[Direction, Length] | None:
    """Where a cut would part `found` from the printed strip that lies on it; None for no strip.

    The mark does not lie within it where all of it is strip.
    """
    strip = paper.strip
    if strip is None or sheet.offcut:
        return None
    measure = Direction.WIDTH if strip.upright else Direction.HEIGHT
    start = found.x if strip.upright else found.y
    side, whole = found.size.along(measure), sheet.size.along(measure)
    mark = (strip.width if strip.lies_first else whole - strip.width) - start
    bare = mark <= ZERO if strip.lies_first else mark >= side
    return None if bare else (measure, mark)
