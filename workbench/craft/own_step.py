"""Steps of the maker's own: to stamp, to punch, to ink the edges, to print words, to tie a bow."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from workbench.craft.card import FRONT
from workbench.craft.errors import CraftError, checked_name
from workbench.craft.extent import Extent
from workbench.craft.paper import Size, checked_size
from workbench.measure.length import ZERO, Length

Moment = Literal[
    "before cutting", "after cutting", "after scoring", "before mounting", "after mounting", "last"
]
MOMENTS: tuple[Moment, ...] = get_args(Moment)
LONGEST_CAUTION = 100
# Bounds to catch slips (common practice, no source).
MOST_MINUTES = 600
MOST_STEPS = 30
MOST_HOLES = 40


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole or slot that is punched: round where both sides are the same.

    Attributes:
        x: from the left edge of what is punched to its middle.
        y: from the bottom edge to its middle.
        size: its width and height; a slot has round ends.

    Raises:
        CraftError: for a side that is not above zero.
    """

    x: Length
    y: Length
    size: Size

    def __post_init__(self) -> None:
        checked_size(self.size, "hole, size")

    @property
    def extent(self) -> Extent:
        """The rectangle around it, measured as `x` and `y` are."""
        return Extent.of(self.x - self.size.width / 2, self.y - self.size.height / 2, self.size)

    def lies_on(self, size: Size) -> bool:
        """Whether all of it is within a rectangle of `size`."""
        around = self.extent
        return (
            around.left >= ZERO
            and around.bottom >= ZERO
            and around.right <= size.width
            and around.top <= size.height
        )


@dataclass(frozen=True, slots=True)
class OwnStep:
    """Something the maker does to a piece, or to the card, of every card in a batch.

    Attributes:
        name: what is done, as the maker says it: "stamp the words".
        on: the name of the piece it is done to, or "card" for the card.
        when: "before cutting" (on whole sheets), "after cutting", "after scoring" (and folding),
            "before mounting" and assembling, "after mounting" inside the card, or "last", on the
            card put together.
        minutes: how long it takes for each, 0 where that is not known.
        caution: what to take care of, "" for nothing.
        holes: what is punched; measured from the left and the bottom of the piece, or of the front
            of the card.

    Raises:
        CraftError: where these do not fit one another.
    """

    name: str
    on: str = FRONT
    when: Moment = "after cutting"
    minutes: Fraction = Fraction(0)
    caution: str = ""
    holes: tuple[Hole, ...] = ()

    def __post_init__(self) -> None:
        place = f'step "{checked_name(self.name, "steps")}"'
        if not 0 <= self.minutes <= MOST_MINUTES:
            raise CraftError(
                f"{place}, minutes",
                "nobody is that long at one of them",
                f"give 0 to {MOST_MINUTES} minutes",
            )
        if self.caution:
            checked_name(self.caution, f"{place}, caution", "caution", LONGEST_CAUTION)
        if len(self.holes) > MOST_HOLES:
            raise CraftError(
                f"{place}, holes", f"there are {len(self.holes)}", f"use at most {MOST_HOLES}"
            )
        if self.holes and self.when == "before cutting":
            raise CraftError(
                f"{place}, holes",
                "nobody knows yet where on the sheet the pieces lie",
                "punch them after cutting",
            )
