"""A figure that is known only to lie between two others."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Range:
    """All that a figure may be, from `low` to `high`, in whatever unit its holder says.

    A figure that is known has both alike.
    """

    low: Fraction
    high: Fraction

    @classmethod
    def exactly(cls, value: Fraction | int) -> "Range":
        """The range of a figure that is known."""
        return cls(Fraction(value), Fraction(value))

    @classmethod
    def around(cls, ranges: Iterable["Range"]) -> "Range":
        """From the least of all lows to the greatest of all highs.

        Raises:
            ValueError: where there is none.
        """
        every = tuple(ranges)
        return cls(min(one.low for one in every), max(one.high for one in every))

    @property
    def known(self) -> bool:
        """Whether it is one figure and no more."""
        return self.low == self.high

    def __add__(self, other: "Range") -> "Range":
        return Range(self.low + other.low, self.high + other.high)

    def __mul__(self, times: Fraction | int) -> "Range":
        """Both ends, `times` as much; `times` is nothing or more."""
        return Range(self.low * times, self.high * times)


NOTHING = Range.exactly(0)
