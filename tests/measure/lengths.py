"""Lengths for property tests."""

from fractions import Fraction
from typing import get_args

from hypothesis import strategies as st

from workbench.measure.length import Length, Unit
from workbench.measure.writing import HALF_MM, ONE_MM, SIXTEENTHS, Graduation

units: st.SearchStrategy[Unit] = st.sampled_from(get_args(Unit))
graduations = st.sampled_from(
    [SIXTEENTHS, HALF_MM, ONE_MM, *(Graduation("in", Fraction(1, 2**n)) for n in range(7))]
)
ticks = st.integers(0, 320 * 2000)
# What makers write (64ths, tenths), what the planner holds (ticks), and anything exact at all.
lengths = st.one_of(
    st.integers(0, 64 * 60).map(lambda n: Length.of(Fraction(n, 64), "in")),
    st.integers(0, 15_000).map(lambda n: Length.of(Fraction(n, 10), "mm")),
    ticks.map(Length.from_ticks),
    st.fractions(0, 100_000, max_denominator=10**12).map(Length),
)
signed = st.builds(lambda length, sign: length * sign, lengths, st.sampled_from((-1, 1)))
