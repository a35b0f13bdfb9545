from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.measure.length import Length, MeasureError
from workbench.measure.numerals import plain
from workbench.measure.weights import BASIC_SIZES, read_thickness, read_weight


@pytest.mark.parametrize(
    ("grade", "gsm", "places"),
    [
        ("bond", 3.760, 3),
        ("cover", 2.704, 3),
        ("text", 1.480, 3),
        ("index", 1.81, 2),
        ("bristol", 2.19, 2),
        ("tag", 1.627, 3),
    ],
)
def test_one_pound_of_each_grade(grade: str, gsm: float, places: int) -> None:
    # printwiki, "Grammage": grams a square metre for each pound.
    assert round(float(read_weight(f"1 lb {grade}").gsm), places) == gsm


@pytest.mark.parametrize("grade", BASIC_SIZES)
def test_the_constant_of_the_trade(grade: str) -> None:
    # g/m2 = lb x 1406.139 / (W x H): TAPPI T 410 and ISO 536 define the two measures.
    width, height = BASIC_SIZES[grade]
    assert round(float(read_weight(f"1 lb {grade}").gsm * width * height), 3) == 1406.139


@pytest.mark.parametrize(
    ("grade", "pounds", "gsm"),
    [
        ("index", (90, 110, 140, 170), (165, 200, 255, 305)),  # GPO/JCP K10
        ("tag", (105, 150, 165, 250), (170, 245, 270, 405)),  # GPO/JCP P20
        ("bond", (20, 24, 28), (75, 90, 105)),  # GPO/JCP O-63
        ("text", (70, 80, 100), (105, 120, 150)),  # GPO/JCP A91
    ],
)
def test_government_paper_tables(grade: str, pounds: tuple[int, ...], gsm: tuple[int, ...]) -> None:
    # GPO/JCP Government Paper Specification Standards (1999) round to 5 g/m2.
    read = [read_weight(f"{each} lb {grade}").gsm for each in pounds]
    assert tuple(5 * round(each / 5) for each in read) == gsm


def test_pounds_of_index_are_lighter_than_pounds_of_cover() -> None:
    # Computed from printwiki's figures: 110 lb index 199 g/m2, 110 lb cover 297 g/m2.
    assert round(read_weight("110 lb index").gsm) == 199
    assert round(read_weight("110 lb cover").gsm) == 297


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("300 gsm", "300 gsm"),
        ("300gsm", "300 gsm"),
        ("300 g/m2", "300 gsm"),
        ("300 g/m²", "300 gsm"),
        ("67,5 GSM", "67.5 gsm"),
        ("110 lb cover", "110 lb cover"),
        ("65lb Cover", "65 lb cover"),
        ("80 lbs text", "80 lb text"),
        ("110# index", "110 lb index"),
    ],
)
def test_weights_as_packets_say_them(text: str, said: str) -> None:
    weight = read_weight(text)
    assert weight.text == said
    assert read_weight(said) == weight
    assert "gsm" not in said or weight.gsm == Fraction(said.removesuffix(" gsm"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("110 lb", "needs its grade"),
        ("110#", "needs its grade"),
        ("110 lb cardstock", "has no grade called “cardstock”"),
        ("300", "does not say what its number counts"),
        ("110 cover", "does not say what its number counts"),
        ("110 kg", "does not say what its number counts"),
        ("cover", "does not start with a number"),
        ("", "nothing is written"),
        ("0 gsm", "not the weight of any paper"),
        ("9000 lb cover", "not the weight of any paper"),
        ("-300 gsm", "less than nothing"),
    ],
)
def test_weights_that_cannot_be(text: str, says: str) -> None:
    with pytest.raises(MeasureError, match=says) as caught:
        read_weight(text)
    assert str(caught.value).isprintable()


def test_pounds_without_a_grade_are_told_the_grades() -> None:
    with pytest.raises(MeasureError) as caught:
        read_weight("110 lb")
    assert all(grade in caught.value.mend for grade in BASIC_SIZES)


@pytest.mark.parametrize(
    ("text", "mm", "said"),
    [
        # 1 point = 0.001 in = 0.0254 mm: the trade's unit for what TAPPI T 411 measures.
        ("14 pt", "0.3556", "14 pt"),
        ("14pt", "0.3556", "14 pt"),
        ("1 point", "0.0254", "1 pt"),
        ("0.36 mm", "0.36", "0.36 mm"),
        ("0,36 mm", "0.36", "0.36 mm"),
        ("0.014 in", "0.3556", "0.014 in"),
        ('0.014"', "0.3556", "0.014 in"),
    ],
)
def test_thicknesses_as_packets_say_them(text: str, mm: str, said: str) -> None:
    thickness = read_thickness(text)
    assert thickness.length == Length(Fraction(mm))
    assert thickness.text == said
    assert read_thickness(said) == thickness


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0.36", "does not end in pt, mm or in"),
        ("14 gsm", "does not end in pt, mm or in"),
        ("0 pt", "not the thickness of a sheet"),
        ("50 mm", "not the thickness of a sheet"),
        ("thick", "does not start with a number"),
    ],
)
def test_thicknesses_that_cannot_be(text: str, says: str) -> None:
    with pytest.raises(MeasureError, match=says):
        read_thickness(text)


@given(st.sampled_from(sorted(BASIC_SIZES)), st.fractions(1, 300, max_denominator=8))
def test_pounds_of_a_grade_are_read_as_grams(grade: str, pounds: Fraction) -> None:
    # 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959), 500 sheets of the
    # basic size of each grade (printwiki, "Grammage"), the inch 25.4 mm.
    width, height = BASIC_SIZES[grade]
    square_metres = width * height * Fraction("0.0254") ** 2 * 500
    gsm = pounds * Fraction("453.59237") / square_metres
    assert read_weight(f"{plain(pounds)} lb {grade}").gsm == gsm
