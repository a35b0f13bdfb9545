"""What each post makes of letters at and beside its limits; every limit with its source."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.post.letters import GRAMS_OF_AN_OUNCE, in_envelope, in_inches, letter
from workbench.measure.ranges import Range
from workbench.post.judging import Letter, judge
from workbench.post.rule_files import built_in_posts
from workbench.post.words import rule_words

HAIR = Fraction(1, 1000)
BY_MACHINE, BY_HAND = "letter, sorted by machine", "letter, sorted by hand (surcharge)"
FLAT = "large envelope (flat)"


def goes_as(each: Letter, post: str) -> str | None:
    sure = judge(each, built_in_posts()[post]).sure
    return sure.postal_class.name if sure else None


@pytest.mark.parametrize(
    ("envelope", "post", "name"),
    [
        # A2 is 5 3/4 : 4 3/8 = 1.314. USPS DMM 101.1.2a: from 1.3 to 2.5.
        ("US A2", "us", BY_MACHINE),
        # UPU Letter Post Regulations, Deutsche Post: length at least 1.4 x width.
        ("US A2", "world", "letter, not standardised"),
        ("US A2", "de", "Großbrief"),
        ("US A2", "uk", "Letter"),  # Royal Mail: 240 x 165 mm
        ("US A2", "ca", "standard letter"),  # Canada Post: 140 x 90 to 245 x 156 mm
        # A10 and No. 10 are 241.3 mm long. Royal Mail: a letter is 240 mm long at most.
        ("US A10", "uk", "Large Letter"),
        ("US No. 10", "uk", "Large Letter"),
        ("US No. 10", "us", BY_MACHINE),  # 9 1/2 : 4 1/8 = 2.303 (DMM 101.1.2a)
        ("US A10", "us", BY_MACHINE),  # 9 1/2 x 6; DMM 101.1.1: to 11 1/2 x 6 1/8 in
        # C5 is 162 mm = 6.378 in high: a letter in the UK (165 mm), a flat in the US (6 1/8 in).
        ("ISO C5", "uk", "Letter"),
        ("ISO C5", "us", FLAT),
        ("ISO C6", "world", "standardised letter"),  # 162 : 114 = 1.421, 114 <= 120 mm
        ("ISO C6", "de", "Standardbrief"),
        ("ISO B6", "de", "Standardbrief"),  # 125 mm is the most (Deutsche Post)
        ("ISO B6", "world", "letter, not standardised"),  # 125 > 120 + 2 mm (UPU)
        ("ISO DL", "world", "standardised letter"),  # 220 x 110 mm
        ("ISO C7", "ca", None),  # 114 x 81 mm; Canada Post: nothing below 140 x 90 mm
        ("ISO C7", "de", "Kompaktbrief"),  # Deutsche Post: from 100 x 70 mm
        ("US slimline", "us", BY_MACHINE),  # 8 7/8 : 3 7/8 = 2.290
    ],
)
def test_envelopes_of_the_tables(envelope: str, post: str, name: str | None) -> None:
    assert goes_as(in_envelope(envelope), post) == name


def test_a_square_of_six_and_a_half_inches_exceeds_both_letters() -> None:
    # DMM 101.1.1: 6 1/8 in high at most; Royal Mail: 165 mm = 6.496 in wide at most.
    square = in_inches("6.5", "6.5")
    assert goes_as(square, "us") == FLAT
    assert goes_as(square, "uk") == "Large Letter"


def test_a_smaller_square_is_sorted_by_hand() -> None:
    # DMM 101.1.2a: a square is 1 to 1.
    assert goes_as(in_inches("5", "5"), "us") == BY_HAND


@pytest.mark.parametrize(
    ("length", "height", "inside"),
    [
        ("5", "3.5", True),  # DMM 101.1.1: the least, which belongs to it
        ("4.999", "3.5", False),
        ("5", "3.499", False),
        ("6.5", "5", True),  # DMM 101.1.2a: 1.3 itself passes
        ("6.499", "5", False),
        ("8.75", "3.5", True),  # 2.5 itself passes
        ("8.751", "3.5", False),
        ("11.5", "6", True),  # DMM 101.1.1: the most, which belongs to it
        ("11.501", "6", False),
        ("9", "6.125", True),
        ("9", "6.126", False),
    ],
)
def test_both_ends_of_an_american_letter_belong_to_it(
    length: str, height: str, inside: bool
) -> None:
    assert (goes_as(in_inches(length, height), "us") == BY_MACHINE) == inside


@pytest.mark.parametrize(
    ("length", "height", "thick", "inside"),
    [
        ("6", "4.25", "0.007", True),  # DMM 101.1.1a: 0.007 in is enough up to 6 x 4 1/4 in
        ("6", "4.25", "0.0069", False),
        ("6.001", "4.25", "0.007", False),  # and 0.009 in above either
        ("5.6", "4.251", "0.007", False),
        ("6.001", "4.25", "0.009", True),
        ("6", "4.25", "0.25", True),  # DMM 101.1.1: 1/4 in thick at most
        ("6", "4.25", "0.2501", False),
    ],
)
def test_how_thick_an_american_letter_is(
    length: str, height: str, thick: str, inside: bool
) -> None:
    assert (goes_as(in_inches(length, height, thick), "us") == BY_MACHINE) == inside


@pytest.mark.parametrize(
    ("post", "grams", "name", "beyond"),
    [
        ("us", Fraction(7, 2) * GRAMS_OF_AN_OUNCE, BY_MACHINE, FLAT),  # DMM 101.1.1c: 3.5 oz
        ("us", 13 * GRAMS_OF_AN_OUNCE, FLAT, None),  # as quoted of DMM 101.2
        ("uk", Fraction(100), "Letter", "Large Letter"),  # Royal Mail
        ("uk", Fraction(750), "Large Letter", None),
        ("ca", Fraction(50), "standard letter", "non-standard or oversize letter"),  # Canada Post
        ("ca", Fraction(500), "non-standard or oversize letter", None),
        ("de", Fraction(20), "Standardbrief", "Kompaktbrief"),  # Deutsche Post
        ("de", Fraction(50), "Kompaktbrief", "Großbrief"),
        ("de", Fraction(500), "Großbrief", None),
        ("world", Fraction(20), "standardised letter", "letter, not standardised"),  # UPU
        ("world", Fraction(2000), "letter, not standardised", None),
    ],
)
def test_the_most_that_a_letter_weighs(
    post: str, grams: Fraction, name: str, beyond: str | None
) -> None:
    at_it = letter(Fraction(162), Fraction(114), grams=grams)
    assert goes_as(at_it, post) == name
    above = letter(Fraction(162), Fraction(114), grams=grams + HAIR)
    assert goes_as(above, post) == beyond


@pytest.mark.parametrize(
    ("post", "thick", "name", "beyond"),
    [
        ("uk", 5, "Letter", "Large Letter"),  # Royal Mail: 5 and 25 mm
        ("uk", 25, "Large Letter", None),
        ("ca", 5, "standard letter", "non-standard or oversize letter"),  # Canada Post: 5, 20 mm
        ("ca", 20, "non-standard or oversize letter", None),
        ("de", 5, "Standardbrief", "Kompaktbrief"),  # Deutsche Post: 5, 10 and 20 mm
        ("de", 10, "Kompaktbrief", "Großbrief"),
        ("de", 20, "Großbrief", None),
        ("world", 5, "standardised letter", "letter, not standardised"),  # UPU: 5 mm
    ],
)
def test_the_most_that_a_letter_is_thick(
    post: str, thick: int, name: str, beyond: str | None
) -> None:
    at_it = letter(Fraction(162), Fraction(114), thickness=Fraction(thick))
    assert goes_as(at_it, post) == name
    above = letter(Fraction(162), Fraction(114), thickness=thick + HAIR)
    assert goes_as(above, post) == beyond


@pytest.mark.parametrize(
    ("length", "height", "post", "inside"),
    [
        ("240", "165", "uk", True),  # Royal Mail
        ("240.1", "165", "uk", False),
        ("240", "165.1", "uk", False),
        ("140", "90", "ca", True),  # Canada Post
        ("139.9", "90", "ca", False),
        ("245", "156", "ca", True),
        ("245", "156.1", "ca", False),
        ("140", "90", "de", True),  # Deutsche Post
        ("235", "125", "de", True),
        ("235.1", "125", "de", False),
        ("175", "125", "de", True),  # 1.4 itself passes
        ("174.9", "125", "de", False),
        ("138", "90", "world", True),  # UPU: 140 x 90 to 235 x 120 mm, 2 mm either way
        ("137.9", "90", "world", False),
        ("237", "122", "world", True),
        ("237.1", "122", "world", False),
        ("237", "122.1", "world", False),
    ],
)
def test_both_ends_of_other_letters_belong_to_them(
    length: str, height: str, post: str, inside: bool
) -> None:
    cheapest = built_in_posts()[post].classes[0].name
    assert (goes_as(letter(Fraction(length), Fraction(height)), post) == cheapest) == inside


def test_lumps_are_sorted_by_hand_in_the_us_only() -> None:
    # DMM 101.1.2d: contents that make the thickness uneven.
    lumpy = letter(Fraction(162), Fraction(114), lumps=1)
    assert goes_as(lumpy, "us") == BY_HAND
    assert goes_as(lumpy, "uk") == "Letter"


def test_an_upright_address_turns_the_shape_over() -> None:
    # DMM 101.1.2a divides the length, along the address, by the height.
    a7 = in_inches("7.25", "5.25")
    assert goes_as(a7, "us") == BY_MACHINE
    assert goes_as(replace(a7, shape=1 / a7.shape), "us") == BY_HAND


def test_a_card_without_an_envelope_has_a_class_of_its_own() -> None:
    # DMM 101: to 4 1/4 x 6 in, 0.007 to 0.016 in thick; an envelope is no card.
    bare = replace(in_inches("6", "4.25", "0.016"), enveloped=False)
    assert goes_as(bare, "us") == "card"
    assert goes_as(in_inches("6", "4.25", "0.016"), "us") == BY_MACHINE
    thicker = replace(bare, thickness=Range.exactly(Fraction("0.0161") * Fraction("25.4")))
    assert goes_as(thicker, "us") == BY_MACHINE


def test_how_near_the_edge_is_told() -> None:
    judged = judge(in_envelope("US A2"), built_in_posts()["us"])
    assert judged.sure
    shape = next(each for each in judged.sure.rules if each.rule.of == "shape")
    assert rule_words(shape) == "sides 1.314 to 1, from 1.3; 0.014 inside"
    assert shape.near
    assert shape.beyond == Fraction(23, 4) / Fraction(35, 8) - Fraction(13, 10)


def test_what_is_not_known_leaves_a_rule_open() -> None:
    doubtful = replace(in_envelope("ISO C6"), grams=Range(Fraction(18), Fraction(21)))
    judged = judge(doubtful, built_in_posts()["de"])
    assert judged.hoped
    assert judged.sure
    assert judged.hoped.postal_class.name == "Standardbrief"
    assert judged.sure.postal_class.name == "Kompaktbrief"
    weight = next(each for each in judged.hoped.rules if each.rule.of == "weight")
    assert weight.verdict == "open"
    assert rule_words(weight) == "weight 18 to 21 g, to 20 g; 1 g outside at worst"


def test_every_rule_has_a_source_and_a_day() -> None:
    for post in built_in_posts().values():
        for each in post.classes:
            assert all(rule.source and rule.seen for rule in each.rules)
