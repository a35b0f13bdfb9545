"""What is put on a card that is not cut from paper: gems, ribbon, adhesive, a button."""

from dataclasses import dataclass
from fractions import Fraction

from workbench.craft.card import FRONT, MOST_A_CARD
from workbench.craft.errors import CraftError, checked_name
from workbench.measure.length import ZERO, Length, MeasureError
from workbench.measure.masses import read_grams
from workbench.measure.weights import read_thickness


@dataclass(frozen=True, slots=True)
class Extra:
    """One kind of thing put on each card.

    Attributes:
        name: its own among the extras of a project.
        weight: what one weighs, as the maker wrote it: "0.4 g", "0.1 oz".
        thickness: how high one stands, as the maker wrote it: "2 mm", "14 pt"; None counts for
            nothing, as glue does.
        on: what it lies on: "card" for the front, "inside", or the name of a piece.
        per_card: how many go on each card, from 1 to `MOST_A_CARD`.
        flat: whether it lies evenly over what it is on, as ribbon or tape does; else it is a lump.

    Raises:
        CraftError: where a weight or thickness cannot be read, or a count is not possible.
    """

    name: str
    weight: str
    thickness: str | None = None
    on: str = FRONT
    per_card: int = 1
    flat: bool = False

    def __post_init__(self) -> None:
        place = f'extra "{checked_name(self.name, "extras")}"'
        if not 1 <= self.per_card <= MOST_A_CARD:
            raise CraftError(
                f"{place}, per_card",
                f"{self.per_card} on each card is not possible",
                f"give a whole number from 1 to {MOST_A_CARD}",
            )
        for key in ("weight", "thickness"):
            try:
                _ = self.grams if key == "weight" else self.height
            except MeasureError as error:
                raise CraftError(f"{place}, {key}", error.what, error.mend) from error

    @property
    def grams(self) -> Fraction:
        """What one weighs."""
        return read_grams(self.weight)

    @property
    def height(self) -> Length:
        """How high one stands on what it is on."""
        return read_thickness(self.thickness).length if self.thickness else ZERO
