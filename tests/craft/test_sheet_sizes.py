"""Named sizes, against the standards that name them."""

import pytest

from workbench.craft.paper import Size
from workbench.craft.sheet_sizes import (
    CARDS,
    SHEETS,
    read_card,
    read_sheet,
    read_whole_sheet,
    sheet_name,
)
from workbench.measure.length import Length, MeasureError

# ISO 216:2007, A and B series, mm.
ISO_A = "841x1189 594x841 420x594 297x420 210x297 148x210 105x148 74x105 52x74 37x52 26x37"
ISO_B = "1000x1414 707x1000 500x707 353x500 250x353 176x250 125x176 88x125 62x88 44x62 31x44"
# ASME Y14.1 (A and B); Legal is a size of the trade. Inches.
AMERICAN = {"Letter": ("8.5", "11"), "Tabloid": ("11", "17"), "Legal": ("8.5", "14")}


def mm(width: int, height: int) -> Size:
    return Size(Length.of(width, "mm"), Length.of(height, "mm"))


def inches(width: str, height: str) -> Size:
    return Size(Length.of(width, "in"), Length.of(height, "in"))


@pytest.mark.parametrize(("series", "listed"), [("A", ISO_A), ("B", ISO_B)])
def test_iso_sizes_are_those_of_the_standard(series: str, listed: str) -> None:
    for number, sides in enumerate(listed.split()):
        assert SHEETS[f"{series}{number}"] == mm(*map(int, sides.split("x")))


def test_american_sizes_are_those_of_the_standard() -> None:
    for name, sides in AMERICAN.items():
        assert SHEETS[name] == inches(*sides)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("a4", mm(210, 297)),
        (" Letter ", inches("8.5", "11")),
        ("12x12 in", inches("12", "12")),
        ('6" x 6"', inches("6", "6")),
        ("6 by 6 in", inches("6", "6")),
        ("152 × 152 mm", mm(152, 152)),
        ("8 1/2 x 11 in", inches("8.5", "11")),
        ("8 x 8", mm(8, 8)),
        ("6 in x 152 mm", Size(Length.of("6", "in"), Length.of("152", "mm"))),
    ],
)
def test_sheets_are_read_by_name_or_by_their_sides(text: str, size: Size) -> None:
    assert read_sheet(text, "mm") == size


def test_a_sheet_of_12_by_12_is_in_inches_as_no_sheet_is_so_small_in_millimetres() -> None:
    assert (
        read_whole_sheet("12 x 12", "mm") == read_whole_sheet("12×12", "in") == inches("12", "12")
    )
    assert read_whole_sheet("100 x 150", "mm") == mm(100, 150)


def test_nothing_written_is_called_so() -> None:
    with pytest.raises(MeasureError, match="nothing is written here"):
        read_card(" ", "in")


def test_a_card_named_by_iso_is_not_the_american_one() -> None:
    assert read_card("A6", "in") == mm(105, 148)
    assert read_card("US A6", "mm") == inches("4.5", "6.25")
    assert read_card("A2", "mm") == CARDS["US A2"] == inches("4.25", "5.5")


@pytest.mark.parametrize("text", ["", "A99", "6", "6 x", "x", "6 x 6 x 6", "0 x 6 in", "6 x 6 ft"])
def test_anything_else_is_refused_in_words(text: str) -> None:
    with pytest.raises(MeasureError) as error:
        read_sheet(text, "in")
    assert error.value.mend


def test_sheets_know_their_names() -> None:
    assert sheet_name(mm(297, 210)) == "A4"
    assert sheet_name(inches("12", "12")) == "12 × 12 in"
    assert sheet_name(mm(304, 305)) is None
