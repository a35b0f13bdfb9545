"""How long the maker takes over each thing that cutting is made of."""

from dataclasses import dataclass
from typing import Literal, get_args

from workbench.craft.errors import CraftError

MOST_SECONDS = 3_600
Kind = Literal["setting", "stroke", "sheet", "turn"]
KINDS: tuple[Kind, ...] = get_args(Kind)
"""What cutting is made of, as the fields of `Pace` are called."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Whole seconds to set the guide, to make a stroke, to lay one sheet in a stack, to turn.

    The defaults are estimates (common practice, no source) until the maker's own batches have
    measured better ones. A stroke cuts a whole stack; every sheet in it is laid there.

    Attributes:
        own: the kinds that the maker's own batches have measured; all others are estimates.

    Raises:
        CraftError: a figure is less than 0 or more than an hour.
    """

    setting: int = 20
    stroke: int = 8
    sheet: int = 3
    turn: int = 2
    own: tuple[Kind, ...] = ()

    def __post_init__(self) -> None:
        for name in KINDS:
            seconds = self.of(name)
            if not 0 <= seconds <= MOST_SECONDS:
                raise CraftError(
                    f"pace, {name}",
                    f"{seconds} seconds are not possible",
                    f"give a whole number from 0 to {MOST_SECONDS}",
                )

    def of(self, kind: Kind) -> int:
        """The seconds that one of that kind takes."""
        seconds: int = getattr(self, kind)
        return seconds

    def seconds(self, settings: int, strokes: int, sheets: int, turns: int) -> int:
        """The seconds that so many settings, strokes, sheets laid in stacks and turns take."""
        return (
            settings * self.setting
            + strokes * self.stroke
            + sheets * self.sheet
            + turns * self.turn
        )


ESTIMATED = Pace()
"""The pace of nobody in particular."""
