"""Envelopes, and how the maker means to post a card."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.errors import CraftError, checked_name
from workbench.craft.paper import Size, checked_size
from workbench.measure.length import ZERO, Length, MeasureError
from workbench.measure.masses import read_grams

UNENVELOPED = "none"


@dataclass(frozen=True, slots=True)
class Envelope:
    """An envelope by its outer size.

    Attributes:
        name: its own among the envelopes of a project.
        size: its sides, whichever comes first.
        weight: what one weighs, empty, as the maker wrote it ("7 g"); None where nobody knows.
        source: where its size is from, "" where nobody has said.

    Raises:
        CraftError: for a side that is not more than nothing, and for a weight that cannot be read.
    """

    name: str
    size: Size
    weight: str | None = None
    source: str = ""

    def __post_init__(self) -> None:
        place = f'envelope "{checked_name(self.name, "envelopes")}"'
        if self.name == UNENVELOPED:
            raise CraftError(place, "that name means no envelope at all", "choose another")
        checked_size(self.size, f"{place}, size")
        try:
            _ = self.grams
        except MeasureError as error:
            raise CraftError(f"{place}, weight", error.what, error.mend) from error

    @property
    def grams(self) -> Fraction | None:
        """What one weighs, None where nobody has weighed one."""
        return None if self.weight is None else read_grams(self.weight)

    @property
    def long(self) -> Length:
        """The longer side."""
        return max(self.size.width, self.size.height)

    @property
    def short(self) -> Length:
        """The shorter side."""
        return min(self.size.width, self.size.height)


@dataclass(frozen=True, slots=True)
class Posting:
    """How the cards of a project are posted; what is None is left to the workshop.

    Attributes:
        to: the key of a post, "us".
        envelope: the name of an envelope, or "none" for a card that is posted as it is.
        clearance: how much larger than the card the envelope must be each way.
        upright: whether the address runs along the short side.

    Raises:
        CraftError: for a clearance below zero.
    """

    to: str | None = None
    envelope: str | None = None
    clearance: Length | None = None
    upright: bool = False

    def __post_init__(self) -> None:
        if self.clearance is not None and self.clearance < ZERO:
            raise CraftError("post, clearance", "it is less than nothing", "give 0 or more")


NO_WISHES = Posting()
