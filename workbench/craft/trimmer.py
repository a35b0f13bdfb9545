"""The straight-blade trimmer and careful defaults for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from workbench.craft.errors import CraftError
from workbench.craft.paper import PaperKind
from workbench.measure.length import UNITS, ZERO, Length, Unit
from workbench.measure.writing import Graduation, graduation_for

# How far a cut may be off and its border still look even: the usual trim tolerance is 1/16 in or
# 1 mm (common practice, no source).
TOLERANCE = Length.of(Fraction(1, 16), "in")

MOST_AT_ONCE = 50


def _careful_stacks() -> dict[PaperKind, int]:
    # Common practice, no source: thin patterned paper in pairs, everything heavier alone.
    return {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1}


def _ordinary_rules() -> dict[Unit, Graduation]:
    return {unit: graduation_for(unit) for unit in UNITS}


@dataclass(frozen=True, slots=True)
class Trimmer:
    """What the maker's trimmer can do. The defaults are common practice, no source.

    Attributes:
        cut_length: the longest cut.
        rule_length: the longest measure that its rule shows.
        hold: the narrowest strip that can be held safely.
        at_once: how many sheets it cuts at once, by kind of paper.
        graduations: how its rule is divided, in inches and in millimetres.

    Raises:
        CraftError: for a length that is not above zero, a `hold` below zero, and for no sheet or
            over MOST_AT_ONCE at once.
    """

    cut_length: Length = field(default_factory=lambda: Length.of(Fraction(25, 2), "in"))
    rule_length: Length = field(default_factory=lambda: Length.of(15, "in"))
    hold: Length = field(default_factory=lambda: Length.of(Fraction(1, 2), "in"))
    at_once: Mapping[PaperKind, int] = field(default_factory=_careful_stacks)
    graduations: Mapping[Unit, Graduation] = field(default_factory=_ordinary_rules)

    def __post_init__(self) -> None:
        for length, place in ((self.cut_length, "longest cut"), (self.rule_length, "rule")):
            if length <= ZERO:
                raise CraftError(f"trimmer, {place}", "it is nothing or less", "give a length")
        if self.hold < ZERO:
            raise CraftError(
                "trimmer, narrowest strip", "it is less than nothing", "give 0 or more"
            )
        for kind, sheets in self.at_once.items():
            if not 1 <= sheets <= MOST_AT_ONCE:
                raise CraftError(
                    f"trimmer, {kind} at once",
                    f"{sheets} sheets cannot be cut at once",
                    f"give a whole number from 1 to {MOST_AT_ONCE}",
                )
