from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings

from tests.measure.lengths import graduations, lengths
from workbench.measure.length import ZERO, Length
from workbench.measure.rule import rule_ticks
from workbench.measure.writing import HALF_MM, ONE_MM, SIXTEENTHS, Graduation


def test_an_inch_in_sixteenths() -> None:
    # NIST Handbook 44, 5.52: inch rules are divided into binary submultiples.
    ticks = rule_ticks(Length.of(3, "in"), Length.of(4, "in"), SIXTEENTHS)
    assert [tick.rank for tick in ticks] == [0, 4, 3, 4, 2, 4, 3, 4, 1, 4, 3, 4, 2, 4, 3, 4, 0]
    assert [tick.label for tick in ticks if tick.label] == ["3", "4"]
    assert ticks[2].position == Length.of("25/8", "in")


def test_a_centimetre_in_millimetres() -> None:
    ticks = rule_ticks(Length.of(130, "mm"), Length.of(140, "mm"), ONE_MM)
    assert [tick.rank for tick in ticks] == [0, 2, 2, 2, 2, 1, 2, 2, 2, 2, 0]
    assert [tick.label for tick in ticks if tick.label] == ["130", "140"]
    assert [tick.rank for tick in rule_ticks(ZERO, Length.of(2, "mm"), HALF_MM)] == [0, 3, 2, 3, 2]


def test_a_rule_begins_at_nothing_and_ends_where_it_is_told() -> None:
    ticks = rule_ticks(Length.of(-1, "in"), Length.of("5/32", "in"), SIXTEENTHS)
    assert [tick.position.inches for tick in ticks] == [0, Fraction(1, 16), Fraction(1, 8)]
    assert rule_ticks(Length.of(5, "in"), Length.of(4, "in"), SIXTEENTHS) == ()


@settings(deadline=None)
@given(lengths, graduations)
def test_lines_are_evenly_spaced_and_numbered_where_longest(
    start: Length, rule: Graduation
) -> None:
    end = start + rule.interval * 20
    ticks = rule_ticks(start, end, rule)
    assert len(ticks) in (20, 21)
    for before, after in pairwise(ticks):
        assert after.position - before.position == rule.interval
    for tick in ticks:
        assert start <= tick.position <= end
        assert (tick.label is not None) == (tick.rank == 0)
