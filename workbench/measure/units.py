"""Exact conversion factors: inches, millimetres and centimetres from a table, others from pint."""

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pint import UnitRegistry


# pint takes half a second to import, which no program that only cuts paper should wait for.
# 1 in = 25.4 mm exactly: international yard and pound agreement, 1959 (NBS Circular 572, addendum,
# 1960).
_KNOWN = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}
# 1 oz = 1/16 lb, 1 lb = 0.45359237 kg exactly (the same agreement).
_KNOWN_GRAMS = {"g": Fraction(1), "oz": Fraction("28.349523125")}


@cache
def per(unit: str) -> Fraction:
    """The exact number of millimetres in one `unit`: "in", "cm", "thou" or any that pint knows."""
    return _KNOWN.get(unit) or factor(unit, "mm")


@cache
def factor(source: str, target: str) -> Fraction:
    """The exact number of `target` in one `source`, two expressions of units that pint knows.

    Raises:
        pint.PintError: where pint does not know one, or they measure different things.
    """
    if target == "g" and source in _KNOWN_GRAMS:
        return _KNOWN_GRAMS[source]
    return Fraction(_registry().Quantity(Fraction(1), source).to(target).magnitude)


@cache
def _registry() -> "UnitRegistry[Any]":
    # pint takes about half a second to import, so it waits until a conversion is first needed.
    from pint import UnitRegistry

    try:
        return UnitRegistry(non_int_type=Fraction, cache_folder=":auto:")
    except Exception:
        # A home that cannot be written, or a cache damaged or half written (it is pickled, so
        # reading it may raise anything): read pint's own definitions instead, a little slower.
        return UnitRegistry(non_int_type=Fraction)
