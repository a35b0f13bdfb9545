"""The sheets of one class as column generation asks of them: the most valuable cutting at prices.

What is found soon is found on few places, if there are many; what is proven is over all places.
"""

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from workbench.planning.bound.bounded_dp import BoundedRaster, TooManyStatesError
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.instance.trimmer_limits import UNLIMITED, TrimmerLimits
from workbench.planning.layouts.tree import Node
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.progress import Watch

if TYPE_CHECKING:
    from workbench.planning.bound.guillotine_dp import Table


class SheetPricer:
    """A sheet of given size and the shapes that may be cut from it.

    `raster` has all places worth a cut or, where those are many, some.
    """

    def __init__(
        self,
        width: int,
        height: int,
        shapes: Sequence[tuple[int, int]],
        trimmer: TrimmerLimits = UNLIMITED,
        limits: Limits = DEFAULT,
    ) -> None:
        self.raster = Raster(width, height, shapes, trimmer, limits)
        self._asked = width, height, shapes, trimmer, limits
        self._given_up = False

    @cached_property
    def bounded(self) -> BoundedRaster | None:
        """All places, where `raster` has only some; None where they are too many."""
        try:
            return BoundedRaster(*self._asked)
        except TooManyStatesError:
            return None

    @property
    def exact(self) -> bool:
        """Whether what no cutting is better than can be told exactly."""
        return self.raster.exact or (self.bounded is not None and not self._given_up)

    def soon(self, prizes: Sequence[ValuedRectangle], watch: Watch) -> tuple[float, Node]:
        """A valuable cutting, the best if `raster` has all places. Raises Cancelled."""
        table = self.raster.values(prizes, watch)
        return table[-1, -1].item(), self.raster.layout(table, prizes)

    def above(
        self, prizes: Sequence[ValuedRectangle], floor: float, watch: Watch
    ) -> tuple[float, Node] | None:
        """The most valuable cutting, if it is worth more than `floor`.

        Raises:
            TooManyStatesError: that cannot be told within the limits.
            Cancelled: the watch stopped it.
        """
        if self.raster.exact:
            best = self.soon(prizes, watch)
            return best if best[0] > floor else None
        if self.bounded is None or self._given_up:
            raise TooManyStatesError
        try:
            return self.bounded.best_above(prizes, floor, watch)
        except TooManyStatesError:
            self._given_up = True
            raise

    def table_above(
        self, prizes: Sequence[ValuedRectangle], floor: float, watch: Watch
    ) -> tuple[Raster, "Table"]:
        """A raster and the values of its rectangles, right as far as a cutting above `floor` goes.

        Raises:
            TooManyStatesError: that cannot be told within the limits.
            Cancelled: the watch stopped it.
        """
        if self.raster.exact:
            return self.raster, self.raster.values(prizes, watch)
        if self.bounded is None or self._given_up:
            raise TooManyStatesError
        return self.bounded, self.bounded.values_above(prizes, floor, watch)

    def ceiling(self, prizes: Sequence[ValuedRectangle], watch: Watch) -> float:
        """No cutting is worth more; exact wherever that can be told. Raises Cancelled."""
        try:
            best = self.above(prizes, 0, watch)
        except TooManyStatesError:
            return self.raster.ceiling(prizes, watch)
        return best[0] if best else 0
