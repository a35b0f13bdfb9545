"""Files of rules and envelopes that a maker has amended, and those with something wrong."""

import pytest

from workbench.craft.errors import CraftError
from workbench.measure.length import Length
from workbench.post.rule_files import BUILT_IN, built_in_posts, read_envelopes, read_post

GOOD = """
name = "Lighthouse post"
source = "a notice at the counter"
seen = 2026-11-02

[[classes]]
name = "small letter"
rules = [
    { of = "length", least = "140 mm", most = "9 1/4 in", tolerance = "2 mm" },
    { of = "weight", most = "1 oz", source = "the back of the notice", seen = 2026-11-03 },
    { of = "thickness", least = "0.2 mm", over = { length = "200 mm" } },
]
"""


def test_a_post_of_the_makers_own_is_read() -> None:
    post = read_post(GOOD, "lighthouse")
    length, weight, thick = post.classes[0].rules
    assert (post.key, post.name, post.seen) == ("lighthouse", "Lighthouse post", "2026-11-02")
    assert length.most
    assert (length.most.value, length.most.unit) == (Length.of("9.25", "in").mm, "in")
    assert weight.most
    assert (weight.most.unit, weight.source, weight.seen) == (
        "oz",
        "the back of the notice",
        "2026-11-03",
    )
    assert thick.over["length"].value == 200


def test_every_built_in_post_says_where_and_when() -> None:
    assert tuple(built_in_posts()) == BUILT_IN
    for post in built_in_posts().values():
        assert post.source
        assert post.seen.startswith("20")


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        (
            'of = "weight", ',
            "",
            'classes[1] "small letter": rules[2], of: it is missing',
        ),
        ('most = "1 oz"', "most = 1", 'it should be text in quotes; write it as in "100 g"'),
        ('most = "1 oz"', 'most = "-1 oz"', "is less than nothing"),
        ('most = "1 oz"', 'most = "1 mm"', "does not end in g or oz"),
        ('least = "140 mm", most = "9 1/4 in", ', "", "it has neither least nor most"),
        ('least = "140 mm"', 'least = "140"', 'is no length; write it as in "5 mm"'),
        ('least = "140 mm"', 'least = "340 mm"', "it is more than the most; swap the two"),
        ('of = "length"', 'of = "lenght"', '"lenght" is not known here'),
        ("tolerance =", "tolerence =", 'the key is not known; did you mean "tolerance"?'),
        ('name = "small letter"', "", "classes[1], name: it is missing"),
        ("seen = 2026-11-02", "", "mine.toml, seen: it is missing"),
        ("seen = 2026-11-02", 'seen = "lately"', "it should be a day"),
        ("[[classes]]", "[classes]", "it should be a list of tables"),
        ('source = "a notice at the counter"', "source = 3", "it should be text in quotes"),
        ("]\n", "", "it cannot be read as TOML"),
        ("over = { length =", "over = { depth =", "the key is not known"),
    ],
)
def test_a_hole_in_a_file_is_told_in_one_line(was: str, becomes: str, said: str) -> None:
    assert was in GOOD
    with pytest.raises(CraftError) as error:
        read_post(GOOD.replace(was, becomes, 1), "mine")
    assert said in str(error.value)
    assert str(error.value).startswith("mine.toml")
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("text", ["", "classes = []", "classes = [3]", "classes = 3"])
def test_a_file_without_classes_is_told_in_one_line(text: str) -> None:
    head = 'name = "x"\nsource = "x"\nseen = 2026-01-01\n'
    with pytest.raises(CraftError, match="classes"):
        read_post(head + text, "mine")


OWN = """
seen = 2026-11-02
[[tables]]
name = "mine"
source = "measured"
[tables.envelopes]
"linen square" = { size = ["150 mm", "6 in"], weight = "9 g" }
"strip" = ["60 mm", "200 mm"]
"""


def test_envelopes_of_the_makers_own_are_read() -> None:
    square, strip = read_envelopes(OWN, "envelopes.toml")
    assert square.grams == 9
    assert square.source == "measured, seen 2026-11-02"
    assert (square.short, square.long) == (Length.of(150, "mm"), Length.of(6, "in"))
    assert strip.grams is None


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ('"9 g"', '"-9 g"', "is less than nothing"),
        ('["60 mm", "200 mm"]', '["60 mm"]', "it should be two lengths"),
        ('["60 mm", "200 mm"]', '["60 mm", "0 mm"]', "a side is nothing or less"),
        ('["60 mm", "200 mm"]', '["60 mm", "20 yards"]', "which is no unit of length here"),
        ('size = ["150 mm", "6 in"], ', "", "it should be two lengths"),
        ('"strip" =', '"none" =', "that name means no envelope at all"),
    ],
)
def test_an_envelope_that_cannot_be_is_told_in_one_line(was: str, becomes: str, said: str) -> None:
    with pytest.raises(CraftError) as error:
        read_envelopes(OWN.replace(was, becomes, 1), "envelopes.toml")
    assert said in str(error.value)
    assert "\n" not in str(error.value)
