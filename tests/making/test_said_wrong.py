"""Slips as the maker says them."""

import pytest

from tests.making.plans import inches
from workbench.making.said_wrong import read_miscut, wrong_said
from workbench.measure.length import Length, MeasureError


@pytest.mark.parametrize(
    ("said", "mark"),
    [
        ("3 7/8", "3 7/8"),
        ("1/8 short", "3 7/8"),
        ("it is 1/8 too short", "3 7/8"),
        ("too long by 1/16", "4 1/16"),
        ("an eighth too short", "3 7/8"),
        ('1/4" too wide', "4 1/4"),
        ("the rest is 1/8 short", "4 1/8"),
        ("the rest measures 2 1/4", "3 3/4"),
    ],
)
def test_a_length_is_read_as_it_is_said_of_either_part(said: str, mark: str) -> None:
    assert read_miscut(said, "in", inches(4), inches(6)) == inches(mark)


def test_a_unit_that_is_said_counts() -> None:
    wide = read_miscut("3 mm too wide", "in", inches(4), inches(6))
    assert wide == inches(4) + Length.of(3, "mm")
    with pytest.raises(MeasureError, match="1/8 short"):
        read_miscut("somewhat short", "in", inches(4), inches(6))


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("torn", "torn or smudged"),
        ("I tore it", "torn or smudged"),
        ("crooked", "crooked"),
        ("wrong print", "of the wrong print"),
        ("the print is upside down", "cut the wrong way"),
        ("1/8 short", None),
        ("the paper slipped, 3 mm too wide", None),
        ("an eighth of the print is gone, too narrow", None),
        ("a repainted one", None),
    ],
)
def test_what_is_no_matter_of_length_is_known_by_its_word(said: str, wrong: str | None) -> None:
    assert wrong_said(said) == wrong
