"""What the trimmer can cut, in units of the instance."""

import math
from dataclasses import dataclass

from workbench.craft.trimmer import Trimmer
from workbench.planning.shape import Shape


@dataclass(frozen=True, slots=True)
class TrimmerLimits:
    """The `longest` cut, the widest measure on the `rule`, the narrowest strip to `hold`."""

    longest: int
    rule: int
    hold: int = 0

    def cuts(self, line: int, mark: int, whole: int) -> bool:
        """Whether `whole` can be cut at `mark`, along a line of that length.

        What lies beyond the rule is measured on the other part.
        """
        return line <= self.longest and min(mark, whole - mark) <= self.rule

    def frees(self, whole: Shape, part: Shape) -> bool:
        """Whether `part` can be cut out of a corner of `whole`."""
        (width, height), (across, up) = whole, part
        if across > width or up > height:
            return False
        wide_first = self._trims(height, across, width) and self._trims(across, up, height)
        return wide_first or (self._trims(width, up, height) and self._trims(up, across, width))

    def _trims(self, line: int, mark: int, whole: int) -> bool:
        return mark == whole or self.cuts(line, mark, whole)


UNLIMITED = TrimmerLimits(2**62, 2**62)


def trimmer_limits(trimmer: Trimmer, scale: int) -> TrimmerLimits:
    """The limits of `trimmer` where one millimetre is `scale` units."""
    return TrimmerLimits(
        longest=math.floor(trimmer.cut_length.mm * scale),
        rule=math.floor(trimmer.rule_length.mm * scale),
        hold=math.ceil(trimmer.hold.mm * scale),
    )
