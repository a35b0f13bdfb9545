"""The straight-blade trimmer and its careful defaults."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from workbench.craft.paper import Kind
from workbench.measure.length import Length


def _careful_stacks() -> dict[Kind, int]:
    # Common practice, no source: thin patterned paper in pairs, everything heavier alone.
    return {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1}


@dataclass(frozen=True, slots=True)
class Trimmer:
    """What the maker's trimmer can do. The defaults are common practice, no source.

    `cut_length` is the longest cut; `rule_length` the widest measure its rule shows; `hold` the
    narrowest strip that can be held safely; `at_once` the sheets it takes, by kind of paper.
    """

    cut_length: Length = field(default_factory=lambda: Length.of(Fraction(25, 2), "in"))
    rule_length: Length = field(default_factory=lambda: Length.of(15, "in"))
    hold: Length = field(default_factory=lambda: Length.of(Fraction(1, 2), "in"))
    at_once: Mapping[Kind, int] = field(default_factory=_careful_stacks)
