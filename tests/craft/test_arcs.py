"""Areas around rounded corners, against numerical integration by numpy."""

from fractions import Fraction

import numpy as np
import pytest

from workbench.craft.arcs import Area
from workbench.craft.card import Piece, Rounding
from workbench.craft.geometry import Placement
from workbench.craft.paper import Size
from workbench.craft.surface import overlap
from workbench.measure.length import ZERO, Length


def test_whole_arcs_are_exact_and_arcs_cut_through_are_known_to_a_billionth() -> None:
    """A quarter disc, and one cut by an edge halfway up, which numpy integrates."""
    side = Length(Fraction(2))
    round_ = Piece("leaf", Size(side, side), ("kelp",), rounding=Rounding(("top right",), side / 2))
    low = Piece("band", Size(side, side * Fraction(3, 4)), ("kelp",))
    leaf, band = (Placement(piece, ZERO, ZERO, inside=False) for piece in (round_, low))
    assert overlap(leaf, leaf) == Area(Fraction(3), Fraction(1, 4))
    at, weights = np.polynomial.legendre.leggauss(40)
    cut = float(weights @ np.sqrt(1 - ((at + 1) / 4) ** 2)) / 4  # from 0 to 1/2 of the radius
    assert float(overlap(leaf, band)) == pytest.approx(2 + 1 / 2 + cut, abs=1e-9)
