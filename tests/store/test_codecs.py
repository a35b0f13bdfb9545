"""Values as they stand in a project file: read back the same, and refused where they stand."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.measure.lengths import lengths, units
from workbench.measure.length import Length, Unit
from workbench.store.codecs import (
    LENGTH,
    MINUTES,
    SIZE,
    TEXT,
    TRUTH,
    WHOLE,
    Codec,
    Either,
    Listed,
    Named,
    Spot,
    Word,
    WordOrLength,
)
from workbench.store.errors import ProjectFileError

FIRM = lengths.filter(lambda length: length > Length.of(0, "mm"))
SPOT = Spot("it", {}, "in", ("card", "size"), 'size = [4, "5 1/2"]')


@settings(max_examples=examples(20))
@given(FIRM, units)
def test_a_length_is_written_to_be_read_back_the_same(length: Length, unit: Unit) -> None:
    for codec, value in ((LENGTH, length), (WordOrLength(("left",)), length)):
        assert codec.read(codec.write(value, unit), Spot("it", {}, unit)) == value


@pytest.mark.parametrize(
    ("codec", "value"),
    [
        (TEXT, "fern"),
        (TRUTH, True),
        (WHOLE, 7),
        (MINUTES, Fraction(3, 2)),
        (MINUTES, Fraction(20)),
        (Word(("up", "along")), "up"),
        (WordOrLength(("left",)), "left"),
        (Listed(WHOLE), (1, 2, 3)),
        (Named(WHOLE), {"fern": 2}),
        (Either(bool, TRUTH, Listed(TEXT)), False),
        (Either(bool, TRUTH, Listed(TEXT)), ("a", "b")),
    ],
)
def test_what_is_written_is_read_back_the_same(codec: Codec, value: object) -> None:
    assert codec.read(codec.write(value, "in"), SPOT) == value


@pytest.mark.parametrize(
    ("codec", "value", "wrong"),
    [
        (TEXT, 3, "it should be text in quotes, not a whole number"),
        (TRUTH, 1, "it should be true or false"),
        (WHOLE, True, "it should be a whole number, not true or false"),
        (WHOLE, 10**13, "beyond any number"),
        (LENGTH, [4], "it should be a length, not a list"),
        (LENGTH, "4 miles", "4 miles"),
        (MINUTES, "2 hours", "no number of minutes"),
        (SIZE, [4], "it should hold 2 values, not 1"),
        (Word(("up", "along")), "upp", "is not known here"),
        (WordOrLength(("left",)), "lfet", "is no place"),
    ],
)
def test_what_is_wrong_is_told_with_its_place_and_what_is_right(
    codec: Codec, value: Any, wrong: str
) -> None:
    with pytest.raises(ProjectFileError) as caught:
        codec.read(value, SPOT)
    assert str(caught.value).startswith("it: card, size: ")
    assert wrong in str(caught.value)


def test_the_place_in_a_list_is_counted_from_one() -> None:
    with pytest.raises(ProjectFileError, match=r"size\[2\]"):
        Listed(WHOLE).read([1, "two"], SPOT)


@given(st.lists(st.integers(), max_size=3))
@settings(max_examples=examples(12))
def test_a_list_is_read_in_its_order(numbers: list[int]) -> None:
    small = [number % 10**12 for number in numbers]
    assert Listed(WHOLE).read(small, SPOT) == tuple(small)
